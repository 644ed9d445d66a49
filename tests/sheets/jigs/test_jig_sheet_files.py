"""A jig's drawings as files: in its folder and listed, whole or not there; and on request. That another process writes
the same bytes is shown of a jig's whole folder in tests/writers/test_same_bytes.py."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from jig_cases import drafted
from jig_runs import CASE, hashes, inspected, made, written
from sheet_cases import layout_of

import neckmodel
from neckmodel.errors import ExportError
from neckmodel.findings import Finding, Findings
from neckmodel.jigs import KINDS, JigError
from neckmodel.sheets import draw
from neckmodel.sheets.jigs.sheet import draw_jig
from neckmodel.sheets.registry import is_of_jig, kind_named
from neckmodel.writers.folders.jig import write_jig

ROOT = Path(neckmodel.__file__).resolve().parents[1]


@pytest.fixture
def jig_folder() -> Path:
    return written()


def test_the_folder_holds_and_lists_the_drawings(jig_folder: Path) -> None:
    """That they are the same bytes again is shown of every file of this folder in tests/jigs/test_jig_files.py."""
    first = hashes(jig_folder)
    listed = {fact["file"]: fact for fact in json.loads((jig_folder / "manifest.json").read_text())["files"]}
    for file, kind in (("redpoll-jig-screw-guide-A4.pdf", "pdf"), ("redpoll-jig-screw-guide-heel.svg", "svg")):
        assert (listed[file]["format"], listed[file]["sha256"]) == (kind, first[file])


@pytest.mark.parametrize("broken", ["pdf.pdf_bytes", "svg.svg_text"])
def test_where_a_drawing_fails_the_earlier_folder_stays(
    broken: str, jig_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(jig_folder, tmp_path / "jig")
    before = hashes(tmp_path / "jig")
    text: object = b"%PDF-1.4 no" if broken.startswith("pdf") else "<svg/>"
    monkeypatch.setattr(f"neckmodel.writers.drawings.{broken}", lambda *_: text)
    with pytest.raises(ExportError, match=r"redpoll-jig-screw-guide-(A4\.pdf|heel\.svg): read back differently"):
        write_jig(made(*CASE), inspected(*CASE), tmp_path / "jig")
    assert hashes(tmp_path / "jig") == before
    assert [path.name for path in tmp_path.iterdir()] == ["jig"]


def test_a_failed_jig_says_so_on_every_page() -> None:
    jig = drafted("screw-guide", "redpoll")
    assert jig is not None
    bad = Findings("redpoll", (Finding("jig/fit", "jig-screw-guide-heel", "fail", "too tight"),), ())
    for sheet in draw_jig(jig, bad):
        for page in sheet.pages:
            assert any("THIS JIG FAILS: jig/fit" in text.says for text in page.texts()), page.title


def test_on_request_a_jig_is_made_measured_and_drawn() -> None:
    sheets = draw("jig-cradle", layout_of("pipit"))
    assert [(sheet.kind, sheet.paper) for sheet in sheets[:1]] == [("jig-cradle", "A4")]
    assert [sheet.kind for sheet in sheets[1:]] == ["jig-cradle-1", "jig-cradle-2"]
    assert any("This jig was measured and passes" in text.says for text in sheets[0].pages[0].texts())
    with pytest.raises(JigError, match="no screws are stated"):
        draw("jig-screw-guide", layout_of("pipit"))


def test_jigs_are_named_where_a_sheet_is_not_known() -> None:
    assert all(is_of_jig(f"jig-{kind}") for kind in KINDS)
    assert not is_of_jig("caul")
    with pytest.raises(ExportError, match=r"'jig-jug' is not known; .*head, jig-routing-template, .*jig-cradle$"):
        kind_named("jig-jug")


def test_a_jig_s_folder_has_its_drawings_on_the_paper_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import typer

    from neckmodel.cli.app import app

    write_jig(made(*CASE), inspected(*CASE), tmp_path / "jig", papers=("A3", "Letter"))
    pdfs = sorted(path.name for path in (tmp_path / "jig").glob("*.pdf"))
    assert pdfs == ["redpoll-jig-screw-guide-A3.pdf", "redpoll-jig-screw-guide-Letter.pdf"]
    monkeypatch.chdir(tmp_path)
    words = ["jig", "redpoll", "screw-guide", "--paper", "A5", "--quiet"]
    assert typer.main.get_command(app).main(words, standalone_mode=False) == 2
    assert "'A5' is not known; it is one of: A4" in capsys.readouterr().err


def test_naming_the_jigs_sheets_loads_no_kernel() -> None:
    script = """
import sys
from neckmodel.sheets.registry import is_of_jig
assert is_of_jig("jig-caul")
assert not {"cadquery", "OCP", "trimesh", "shapely"} & set(sys.modules), sorted(sys.modules)
"""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, env=environment, check=False)
    assert done.returncode == 0, done.stderr


def test_the_command_refuses_what_does_not_apply_before_it_writes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import typer

    from neckmodel.cli.app import app

    monkeypatch.chdir(tmp_path)
    words = ["sheets", "pipit", "--sheet", "marking-out", "--sheet", "jig-screw-guide", "--quiet"]
    assert typer.main.get_command(app).main(words, standalone_mode=False) == 2
    assert "no screws are stated" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
    words = ["sheets", "redpoll", "--sheet", "jig-screw-guide", "--quiet", "--json"]
    assert typer.main.get_command(app).main(words, standalone_mode=False) == 0
    files = json.loads(capsys.readouterr().out)["files"]
    assert files == ["redpoll-jig-screw-guide-A4.pdf", "redpoll-jig-screw-guide-heel.svg"]
    assert sorted(path.name for path in (tmp_path / "exports/redpoll-sheets").iterdir()) == files
