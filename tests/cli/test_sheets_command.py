"""`neckmodel sheets`: no CAD kernel (as a process of its own), the export's verdict, exit codes, bad calls."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import Invoke
from sheet_cases import layout_of

import neckmodel
from neckmodel.findings import Finding, Findings, Place
from neckmodel.layout.json.layout import layout_json
from neckmodel.sheets import KINDS
from neckmodel.sheets.pages.verdict import verdict_of
from neckmodel.writers.folders.previous import earlier_findings
from neckmodel.writers.jsons import dumps, findings_json
from neckmodel.writers.manifest import SCHEMA, fingerprint

ROOT = Path(neckmodel.__file__).resolve().parents[1]
HEAVY = "('OCP', 'cadquery', 'trimesh', 'manifold3d', 'vtkmodules')"
RUN = f"""
import sys
from neckmodel.cli import app
try:
    app()
finally:
    print([name for name in {HEAVY} if name in sys.modules], file=sys.stderr)
"""


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100"}
    return subprocess.run(
        [sys.executable, "-c", RUN, *arguments],
        capture_output=True,
        text=True,
        cwd=folder,
        env=environment,
        check=False,
    )


def findings(verdict: str) -> Findings:
    wall = Finding(
        "wall/run", "neck", verdict, "says", measured=4.89, error=0.01, limit=3.0, at=Place(17.0, 1.0, -12.0, 0)
    )
    return Findings("redpoll", (wall, Finding("glue/nut", "neck", "warn", "narrow")), ())


def export(folder: Path, found: Findings) -> Path:
    """As much of an export folder as tells its findings."""
    folder.mkdir(parents=True)
    (folder / "findings.json").write_text(dumps(findings_json(found)))
    (folder / "layout.json").write_text(dumps(layout_json(layout_of("redpoll"))))
    files = []
    for name in ("findings.json", "layout.json"):
        sha256, size = fingerprint(folder / name)
        files.append({"file": name, "sha256": sha256, "size": size})
    (folder / "manifest.json").write_text(json.dumps({"schema": SCHEMA, "files": files}))
    return folder


def test_sheets_without_the_kernel(tmp_path: Path) -> None:
    done = run(tmp_path, "sheets", "redpoll", "--quiet")
    assert done.returncode == 0, done.stderr
    assert done.stderr.strip() == "[]"
    names = sorted(path.name for path in (tmp_path / "exports" / "redpoll-sheets").iterdir())
    assert len(names) == len(KINDS) - 1 + 5  # the marking-out sheet on a long page and on pages; four tables
    assert all(name in done.stdout for name in names)
    assert "NOT CHECKED" in done.stdout


def test_the_verdict_of_an_export_of_the_same_design(tmp_path: Path, invoke: Invoke) -> None:
    export(tmp_path / "exports" / "redpoll", findings("pass"))
    done = invoke("sheets", "redpoll", "--sheet", "routing", "--format", "svg", "--json", "--quiet")
    assert done.exit_code == 0, done.stderr
    data = json.loads(done.stdout)
    assert data["verdict"] == "PASS"
    assert data["files"][0] == "redpoll-routing-A4-1.svg"
    text = (tmp_path / "exports" / "redpoll-sheets" / data["files"][0]).read_text(encoding="utf-8")
    assert "Checked on solids: every check passes, 1 warn." in text
    other = invoke("sheets", "redpoll", "--sheet", "head", "--set", "rod_place.from_nut=8", "--json", "--quiet")
    assert json.loads(other.stdout)["verdict"] == "NOT CHECKED"  # one value apart


def test_a_failed_check_is_on_every_sheet_and_is_the_exit_code(tmp_path: Path, invoke: Invoke) -> None:
    export(tmp_path / "exports" / "redpoll", findings("fail"))
    done = invoke("sheets", "redpoll", "--sheet", "inspection", "--format", "svg", "--quiet")
    assert done.exit_code == 1
    for path in (tmp_path / "exports" / "redpoll-sheets").iterdir():
        text = path.read_text(encoding="utf-8")
        assert "CHECKS FAILED: wall/run. DO NOT CUT BY THIS SHEET." in text
        assert "EXPORTED DESPITE FAILED CHECKS" in text


def test_findings_of_a_changed_export_do_not_count(tmp_path: Path) -> None:
    sha256 = layout_of("redpoll").design.sha256
    folder = export(tmp_path / "one", findings("pass"))
    found = earlier_findings(folder, sha256)
    assert found == findings("pass")
    assert earlier_findings(folder, "0" * 64) is None
    assert earlier_findings(tmp_path, sha256) is None
    text = (folder / "findings.json").read_text(encoding="utf-8")
    (folder / "findings.json").write_text(text.replace("4.89", "9.89"))
    assert earlier_findings(folder, sha256) is None


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--sheet", "marking"), "sheet 'marking' is not known"),
        (("--paper", "A5"), "paper 'A5' is not known"),
        (("--format", "png"), "format 'png' is not known"),
        (("--dxf-unit", "cm"), 'there is no unit "cm"; there are: mm and in'),
    ],
)
def test_a_wrong_call_is_said_in_one_line(
    arguments: tuple[str, ...], says: str, tmp_path: Path, invoke: Invoke
) -> None:
    done = invoke("sheets", "redpoll", *arguments)
    assert done.exit_code == 2
    assert says in done.stderr.splitlines()[0]
    assert list(tmp_path.iterdir()) == []


def test_an_export_folder_is_no_place_for_sheets(tmp_path: Path, invoke: Invoke) -> None:
    folder = export(tmp_path / "one", findings("pass"))
    before = sorted(folder.iterdir())
    done = invoke("sheets", "redpoll", "--sheet", "head", "--out", str(folder), "--quiet")
    assert done.exit_code == 2
    assert "choose another folder" in done.stderr
    assert sorted(folder.iterdir()) == before


def test_walls_by_section_below_their_limit_say_so() -> None:
    """The thin redpoll of 18 and 20 mm: 2.439 by section."""
    thin = layout_of("redpoll", "neck.thickness.fret_1=18", "neck.thickness.fret_12=20")
    walls = verdict_of(thin, None).walls
    assert walls[0] == "run: 2.44 mm at x 17.00 mm, by section: BELOW ITS LIMIT of 3.00 mm"
    assert not any("BELOW" in wall for wall in verdict_of(layout_of("redpoll"), None).walls)
    assert verdict_of(thin, findings("pass")).walls == ("wall/run: 4.89 mm at x 17.00 mm, limit 3.00 mm: pass",)
