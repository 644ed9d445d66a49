"""The command, once as a process of its own: files, exit codes, what it says where."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from report_cases import case
from typer.testing import CliRunner, Result
from waiting import HANGS

import neckmodel
from neckmodel.cli import app

ROOT = Path(neckmodel.__file__).resolve().parents[1]
ONE_TUNER = "head.tuners=[{x = -40, y = -15, hole = 10, housing = {length = 24, width = 16}}]"


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    path = os.pathsep.join(part for part in (str(ROOT), os.environ.get("PYTHONPATH", "")) if part)
    return subprocess.run(
        [sys.executable, "-m", "neckmodel", "report", *arguments],
        capture_output=True,
        encoding="utf-8",
        cwd=folder,
        env={**os.environ, "PYTHONPATH": path, "PYTHONIOENCODING": "utf-8"},
        timeout=HANGS,
        check=False,
    )


def test_a_report_of_a_design_that_passes(tmp_path: Path) -> None:
    """In another process, with the same bytes."""
    done = run(tmp_path, "redpoll")
    assert done.returncode == 0, done.stderr
    path = tmp_path / "exports" / "redpoll-report.html"
    page = path.read_text(encoding="utf-8")
    assert page == case("redpoll").text
    assert "Written: exports/redpoll-report.html" in done.stdout.replace("\\", "/")
    assert "PASS  redpoll: 0 checks fail" in done.stdout
    assert "local rules come first" in done.stdout
    assert "neckmodel: measuring redpoll" in done.stderr


def invoke(folder: Path, monkeypatch: pytest.MonkeyPatch, *arguments: str) -> Result:
    """The same in this process."""
    monkeypatch.chdir(folder)
    return CliRunner().invoke(app, ["report", *arguments])


def test_a_failed_check_is_reported_and_the_exit_code_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One tuner for six strings: no change of a size mends that, so that none has to be tried."""
    done = invoke(tmp_path, monkeypatch, "redpoll", "--set", ONE_TUNER, "--json", "--quiet", "--out", "here")
    assert done.exit_code == 1, done.stderr
    said = json.loads(done.stdout)
    path = tmp_path / "here" / "redpoll-report.html"
    assert said["schema"] == "neckmodel/report/1"
    assert said["passed"] is False
    assert Path(said["file"]) == Path("here/redpoll-report.html")
    assert said["size"] == path.stat().st_size
    assert "CHECKS FAILED" in path.read_text(encoding="utf-8")
    assert done.stderr == ""


@pytest.mark.parametrize("arguments", [("nothing-of-that-name",), ("redpoll", "--set", "rod.lenght=3")])
def test_what_cannot_be_right_is_refused_with_nothing_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    done = invoke(tmp_path, monkeypatch, *arguments)
    assert done.exit_code == 2
    assert len(done.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    done = invoke(tmp_path, monkeypatch, "redpoll", "--quiet", "--out", "taken")
    assert done.exit_code == 2
    assert done.stderr == f"neckmodel: {tmp_path / 'taken'} is a file, not a folder\n"
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"
