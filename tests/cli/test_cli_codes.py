"""Exit codes and last words: 0 all pass, 1 a check failed, 2 the input or the call is wrong, 3 a fault of ours."""

from __future__ import annotations

import array
import fcntl
import os
import signal
import subprocess
import sys
import termios
from collections.abc import Callable
from pathlib import Path

import pytest
from cli_runs import Invoke, Process, environment
from waiting import HANGS, until

from neckmodel.cli import guard
from neckmodel.errors import DesignError, ExportError, KernelError, MeshError, MissingLibraryError, Problem


def raising(error: BaseException) -> Callable[..., None]:
    def measured(*_: object) -> None:
        raise error

    return measured


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (DesignError([Problem("rod.length", "is too long")], "a.toml"), 2, "a.toml: rod.length: is too long\n"),
        (
            MissingLibraryError("the CAD kernel needs the system library libGL.so.1; sudo apt-get install libgl1"),
            2,
            "neckmodel: the CAD kernel needs the system library libGL.so.1; sudo apt-get install libgl1\n",
        ),
        (KernelError("fuse", "gave two solids", parts=2), 3, "KernelError: fuse: gave two solids (parts=2)"),
        (MeshError("the neck's mesh is open"), 3, "MeshError: the neck's mesh is open"),
        (ZeroDivisionError("float division by zero"), 3, "ZeroDivisionError: float division by zero"),
        (RuntimeError("two\nlines"), 3, "RuntimeError: two lines"),
        (MemoryError(), 3, "not of your design: MemoryError |"),
        (KeyboardInterrupt(), 130, ""),
    ],
)
def test_every_error_ends_in_its_code_and_one_line(
    invoke: Invoke, monkeypatch: pytest.MonkeyPatch, error: BaseException, code: int, said: str
) -> None:
    monkeypatch.setattr("neckmodel.cli.running.measured", raising(error))
    result = invoke("check", "redpoll", "--quiet")
    assert result.exit_code == code
    assert said in result.stderr
    assert "Traceback" not in result.stderr
    assert len(result.stderr.splitlines()) <= 1
    assert result.stdout == ""
    if code == 3:
        assert "please report this line with the design file" in result.stderr


def test_the_traceback_is_there_for_who_asks(invoke: Invoke, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(guard.TRACEBACK, "1")
    monkeypatch.setattr("neckmodel.cli.running.measured", raising(ZeroDivisionError("float division by zero")))
    result = invoke("check", "redpoll")
    assert result.exit_code == 3
    assert "Traceback (most recent call last)" in result.stderr
    assert "in measured" in result.stderr


def test_an_export_that_fails_is_the_disks_fault_or_ours() -> None:
    full = ExportError("a.step: cannot be written: No space left on device")
    full.__cause__ = OSError(28, "No space left on device")
    assert guard.verdict(full)[0] == 2
    assert guard.verdict(ExportError("a.step: read back differently: its name"))[0] == 3


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("chek", "redpoll"), "no such command 'chek'. Did you mean 'check'"),
        (("layout", "redpoll", "--jsn"), "no such option: --jsn"),
        (("layout",), "missing argument 'FILE'; `neckmodel layout --help` shows how"),
        (("layout", "redpoll", "dunnock"), "`neckmodel layout --help` shows how"),
        (("explain", "wal/run"), 'there is no check "wal/run"'),
        (("build", "redpoll", "--format", "dwg"), "format 'dwg' is not known; it is one of: step, stl, 3mf, glb"),
        (("build", "redpoll", "--setup", "sideways"), "setup 'sideways' is not known"),
    ],
)
def test_a_wrong_call_is_one_line_and_code_2(invoke: Invoke, arguments: tuple[str, ...], said: str) -> None:
    result = invoke(*arguments)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_a_folder_that_holds_other_things_is_refused_before_the_work(
    invoke: Invoke, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("neckmodel.cli.running.measured", raising(AssertionError("it went to work")))
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "letter.txt").write_text("dear")
    result = invoke("build", "redpoll", "--out", "letters")
    assert result.exit_code == 2
    assert "is not an earlier export" in result.stderr
    assert (tmp_path / "letters" / "letter.txt").read_text() == "dear"


def test_processes_end_as_promised(process: Process) -> None:
    assert process("layout", "redpoll", "--json").returncode == 0
    wrong = process("layout", "heron")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert wrong.stderr.count("\n") == 1
    assert process().returncode == 2  # the help, because nothing was asked
    assert process("--help").returncode == 0
    assert process("--version").stdout.startswith("neckmodel ")


def test_a_missing_system_library_is_one_line(process: Process, tmp_path: Path) -> None:
    """A stand-in for the kernel that fails as the dynamic loader does on a machine without libGL (glibc's wording)."""
    broken = tmp_path / "broken"
    broken.mkdir()
    said = "libGL.so.1: cannot open shared object file: No such file or directory"
    (broken / "cadquery.py").write_text(f"raise ImportError({said!r}, name='OCP')\n")
    path = os.pathsep.join([str(broken), environment()["PYTHONPATH"]])
    result = process("check", "redpoll", "--quiet", env={"PYTHONPATH": path})
    assert (result.returncode, result.stdout) == (2, "")
    assert result.stderr == (
        "neckmodel: the CAD kernel needs the system library libGL.so.1, which this machine lacks; "
        "Debian/Ubuntu: sudo apt-get install libgl1\n"
    )


@pytest.mark.parametrize("arguments", [("layout", "garganey"), ("schema",), ("--help",), ("explain",)])
def test_a_reader_that_has_seen_enough_is_no_error(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    command = subprocess.Popen(
        [sys.executable, "-m", "neckmodel", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=tmp_path,
        env=environment() | {"PYTHONUNBUFFERED": "1"},
    )
    assert command.stdout is not None
    assert command.stderr is not None
    command.stdout.close()
    errors = command.stderr.read().decode()
    assert command.wait(HANGS) == 0
    assert "rror" not in errors


def test_ctrl_c_ends_quietly(tmp_path: Path) -> None:
    """Interrupted while it waits for a design on standard input."""
    command = subprocess.Popen(
        [sys.executable, "-m", "neckmodel", "layout", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=tmp_path,
        env=environment(),
    )
    assert command.stdin is not None
    command.stdin.write(b"[design]\n")  # it is up and reading once this has been taken; the rest never comes
    command.stdin.flush()
    waiting, stdin = array.array("i", [1]), command.stdin

    def taken() -> bool:
        fcntl.ioctl(stdin, termios.FIONREAD, waiting)
        return not waiting[0]

    until(taken, "the command reads its standard input")
    command.send_signal(signal.SIGINT)
    command.wait(HANGS)  # with its input still open: the end of it might be read before the signal comes
    out, errors = command.communicate()
    assert (command.returncode, out, errors) == (130, b"", b"neckmodel: stopped\n")
