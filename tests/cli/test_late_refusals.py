"""Nothing that could be known before is refused only after the work; what the system refuses is no fault of ours."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import environment, left, started
from waiting import HANGS

from neckmodel.cli.guard import verdict
from neckmodel.errors import ExportError

LATE = {
    "build": ("build", "redpoll"),
    "check": ("check", "redpoll"),
    "report": ("report", "redpoll"),
    "sheets": ("sheets", "redpoll"),
    "jig": ("jig", "redpoll", "trial-block"),
    "layout": ("layout", "redpoll"),
    "vary": ("vary", "redpoll", "tolerance"),
}


@pytest.mark.parametrize("command", LATE)
def test_a_folder_under_a_file_is_refused_before_any_work(invoke, tmp_path: Path, command: str) -> None:
    (tmp_path / "file").touch()
    result = invoke(*LATE[command], "--out", "file/folder")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"neckmodel: {tmp_path / 'file'} is a file, not a folder\n"
    assert left(tmp_path) == ["file"]


@pytest.mark.parametrize("command", LATE)
def test_a_folder_that_may_not_be_written_is_refused_before_any_work(
    invoke, tmp_path: Path, command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(**_: object) -> str:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("neckmodel.writers.drafts.tempfile.mkdtemp", refuse)
    result = invoke(*LATE[command], "--out", "folder")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "cannot be written: Permission denied" in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert left(tmp_path) == []


@pytest.mark.parametrize("command", LATE)
def test_a_name_that_is_too_long_is_refused_before_any_work(invoke, tmp_path: Path, command: str) -> None:
    """255 bytes is the longest name that file systems take."""
    result = invoke(*LATE[command], "--out", "n" * 256)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.endswith("cannot be written: File name too long\n")
    assert len(result.stderr.splitlines()) == 1
    assert left(tmp_path) == []


def test_a_folder_of_250_characters_is_a_folder_like_any_other(tmp_path: Path) -> None:
    run = started(tmp_path, "-m", "neckmodel", "layout", "redpoll", "--out", "n" * 250)
    _, said = run.communicate(timeout=HANGS)
    assert run.returncode == 0, said
    assert left(tmp_path / ("n" * 250)) == ["layout.json"]


def test_a_full_disk_is_no_fault_of_ours(tmp_path: Path) -> None:
    """A limit on the size of a file stands for it: the kernel writes its STEP file until the system refuses."""
    limited = f"ulimit -f 64; exec '{sys.executable}' -m neckmodel build redpoll --quiet --format step"
    done = subprocess.run(
        ["bash", "-c", limited],
        capture_output=True,
        encoding="utf-8",
        cwd=tmp_path,
        env=environment() | {"LC_ALL": "C", "PYTHONDONTWRITEBYTECODE": "1"},
        timeout=HANGS,
        check=False,
    )
    assert done.returncode == 2, done.stderr
    (line,) = done.stderr.splitlines()
    assert line.startswith("neckmodel: ")
    assert line.endswith(f"cannot be written: {os.strerror(27)}")
    assert left(tmp_path) == []


def test_what_the_system_refuses_stays_that_however_often_it_is_said_again() -> None:
    full, ours = ExportError("a.step: cannot be written"), ExportError("a.step: reads back differently")
    full.__cause__ = OSError(28, "No space left on device")
    assert verdict(ExportError("b.step").with_traceback(None))[0] == 3
    for cause, code in ((full, 2), (ours, 3)):
        said_again = ExportError("b.step: cannot be written")
        said_again.__cause__ = cause
        assert verdict(said_again)[0] == code


def test_results_that_cannot_be_written_are_no_fault_of_ours(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "neckmodel", "layout", "redpoll"],
            stdout=full,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            cwd=tmp_path,
            env=environment(),
            timeout=HANGS,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.startswith("neckmodel: cannot be written: No space left on device")
