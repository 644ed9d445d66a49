"""The files themselves: fonts inside, the same bytes each time, damage noticed, a folder whole or untouched."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

import pytest
from sheet_cases import INCHES, NAMES, layout_of, save, sheet_of, sheets_of

import neckmodel
from neckmodel.errors import ExportError
from neckmodel.sheets import KINDS, Sheet, draw_all
from neckmodel.writers.drawings.pages import DrawnJob
from neckmodel.writers.drawings.pdf import PdfWriter, pdf_bytes, problems
from neckmodel.writers.drawings.svg import SvgWriter, svg_text
from neckmodel.writers.folders.sheets import DRAWING_FORMATS, planned, write_sheets

ROOT = Path(neckmodel.__file__).resolve().parents[1]


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("name", NAMES)
def test_every_font_is_inside_every_pdf(name: str, tmp_path: Path) -> None:
    for sheet in sheets_of(name):
        pdf = save(sheet.pages, tmp_path / "one.pdf")
        listed = subprocess.run(["pdffonts", str(pdf)], capture_output=True, text=True, check=True).stdout.splitlines()
        fonts = [line.split() for line in listed[2:]]
        assert fonts
        assert all(font[-5:-2] == ["yes", "yes", "yes"] for font in fonts), listed  # emb, sub, uni
        found = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
        assert f"Pages:           {len(sheet.pages)}" in found
        images = subprocess.run(["pdfimages", "-list", str(pdf)], capture_output=True, text=True, check=True).stdout
        assert len(images.splitlines()) == 2  # the heading only: lines and letters, no pictures


def on_paper(name: str, kind: str) -> Sheet:
    """A drawing for machines as people read it."""
    return next(sheet for sheet in sheets_of(name) if sheet.kind == kind and "svg" in sheet.formats)


HASHES = """
import hashlib
from sheet_cases import sheets_of
from neckmodel.writers.drawings.pages import DrawnJob
from neckmodel.writers.folders.sheets import planned
import pathlib, tempfile
job = DrawnJob("redpoll", sheets_of("redpoll"))
with tempfile.TemporaryDirectory() as folder:
    for writer, target in planned(job, ("pdf", "svg", "dxf")):
        path = pathlib.Path(folder) / target.file
        writer.write(job, target, path)
        print(target.file, hashlib.sha256(path.read_bytes()).hexdigest())
"""


def test_the_same_design_gives_the_same_bytes_in_every_process() -> None:
    """Here, and in a process with a seed and a zone of its own; `test_same_bytes` holds two such processes."""
    seeds = {"PYTHONHASHSEED": "1", "TZ": "UTC+1"}
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, (ROOT, *sys.path))), **seeds}
    there = subprocess.run([sys.executable, "-c", HASHES], capture_output=True, text=True, env=environment, check=True)
    with redirect_stdout(StringIO()) as here:
        exec(HASHES, {})
    assert there.stdout == here.getvalue()
    assert len(there.stdout.splitlines()) > 40


def test_another_design_gives_other_bytes() -> None:
    page = sheet_of("redpoll", "marking-out", "long").pages[0]
    other = draw_all(layout_of("redpoll", "rod_place.from_nut=7.01"), None, ("long",), ("marking-out",))[0].pages[0]
    assert pdf_bytes((page,), "x") != pdf_bytes((other,), "x")
    assert svg_text(page) != svg_text(other)


def test_damage_is_noticed(tmp_path: Path) -> None:
    pages = sheet_of("redpoll", "routing", "A4").pages
    data = pdf_bytes(pages, "x")
    assert problems(data, pages) == []
    assert problems(data[:-200], pages) == ["it is not a whole PDF file"]
    assert problems(data, pages[:-1]) == [f"{len(pages)} pages, not {len(pages) - 1}"]
    assert problems(data.replace(b"\nendobj", b"\n endobj", 1), pages) == ["its table of objects is not where it says"]
    letter = sheet_of("redpoll", "routing", "Letter").pages
    assert any("size is off" in problem for problem in problems(data, letter[: len(pages)]))
    job = DrawnJob("redpoll", (on_paper("redpoll", "head"),))
    (target,) = SvgWriter().targets(job)
    path = tmp_path / target.file
    text = svg_text(job.sheets[0].pages[0])
    for was, becomes, says in (
        ("tuner 1", "tuner 9", "words"),
        ("<circle", "<ellipse", "of circle"),
        ('mm" height', 'cm" height', "size"),
        ("</svg>", "", "not XML"),
    ):
        path.write_text(text.replace(was, becomes, 1), encoding="utf-8")
        with pytest.raises(ExportError, match=says):
            SvgWriter().verify(job, target, path)


def test_what_failed_stands_in_every_file() -> None:
    page = sheet_of("redpoll", "head", "long").pages[0]
    assert b"EXPORTED DESPITE" in pdf_bytes((page,), "x", "EXPORTED DESPITE FAILED CHECKS")
    assert "<title>redpoll head - EXPORTED DESPITE FAILED CHECKS</title>" in svg_text(
        page, "EXPORTED DESPITE FAILED CHECKS"
    )


@pytest.mark.parametrize("name", ["garganey", INCHES])
def test_a_folder_of_every_sheet_in_every_format(name: str, tmp_path: Path) -> None:
    job = DrawnJob(name, draw_all(layout_of(name)), "inch")
    paths = write_sheets(job, tmp_path / "a" / "b", ("pdf", "svg", "dxf"))
    assert len(set(paths)) == len(paths)
    assert {path.suffix.removeprefix(".") for path in paths} == {*DRAWING_FORMATS, "json"}
    assert sorted(paths) == sorted((tmp_path / "a" / "b").iterdir())
    for kind in KINDS.keys() - {"order-of-work"}:  # of a neck without a channel
        assert any(path.name.startswith(f"{name}-{kind}") for path in paths)
    before = {path: hashlib.sha256(path.read_bytes()).hexdigest() for path in paths}
    write_sheets(job, tmp_path / "a" / "b", ("pdf",))  # replaces its own, leaves the others
    assert {path: hashlib.sha256(path.read_bytes()).hexdigest() for path in paths} == before


def test_each_sheet_has_its_usual_format() -> None:
    job = DrawnJob("redpoll", draw_all(layout_of("redpoll")))
    files = [target.file for _, target in planned(job)]
    assert "redpoll-marking-out.pdf" in files
    assert "redpoll-marking-out-A4.pdf" in files
    assert "redpoll-routing-A4.pdf" in files
    assert "redpoll-pockets.dxf" in files
    assert "redpoll-pockets.json" in files
    assert len(files) == 14  # a table beside each of the four drawings for machines
    assert "wren-inspection-Letter.pdf" in [t.file for _, t in planned(DrawnJob("wren", draw_all(layout_of(INCHES))))]


def test_when_one_file_fails_the_folder_stays_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = DrawnJob("redpoll", draw_all(layout_of("redpoll"), None, (), ("routing", "head")))
    (tmp_path / "redpoll-routing-A4.pdf").write_text("mine")
    monkeypatch.setattr("neckmodel.writers.drawings.dxf.dxf_bytes", lambda *_: b"not a drawing")
    with pytest.raises(ExportError, match=r"redpoll-head\.dxf: cannot be read back"):
        write_sheets(job, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["redpoll-routing-A4.pdf"]
    assert (tmp_path / "redpoll-routing-A4.pdf").read_text(encoding="utf-8") == "mine"
    with pytest.raises(ExportError):
        write_sheets(job, tmp_path / "new" / "er")
    assert not (tmp_path / "new").exists()


def test_a_page_too_long_for_any_reader_is_refused() -> None:
    page = sheet_of("redpoll", "head", "long").pages[0]
    from dataclasses import replace

    with pytest.raises(ValueError, match="5080 mm"):
        pdf_bytes((replace(page, box=(0.0, 0.0, 5081.0, 100.0)),), "x")
    assert PdfWriter().suffix == ".pdf"
