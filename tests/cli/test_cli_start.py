"""What a command loads before it works, and how it shows what it is doing."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from cli_runs import environment
from waiting import HANGS

HEAVY = ("numpy", "scipy", "pydantic", "cadquery", "OCP", "vtkmodules", "trimesh", "manifold3d", "lib3mf")

LOADED = """
import json, sys
from neckmodel.cli import app
code = app({arguments!r}, standalone_mode=False)
sys.stderr.write(json.dumps([code, sorted({{name.split(".")[0] for name in sys.modules}})]))
"""


def loaded(*arguments: str) -> tuple[int, set[str]]:
    done = subprocess.run(
        [sys.executable, "-c", LOADED.format(arguments=list(arguments))],
        capture_output=True,
        encoding="utf-8",
        env=environment(),
        timeout=HANGS,
        check=True,
    )
    code, names = json.loads(done.stderr.splitlines()[-1])
    return code, set(names)


def test_help_loads_nothing_heavy() -> None:
    code, names = loaded("--help")
    assert code == 0
    assert names.isdisjoint(HEAVY)
    assert "typer" in names


@pytest.mark.parametrize("arguments", [("build", "--help"), ("--version",), ("presets",), ("explain",)])
def test_an_answer_without_a_design_loads_hardly_more(arguments: tuple[str, ...]) -> None:
    """typer itself takes pydantic to read the options of a command."""
    code, names = loaded(*arguments)
    assert code == 0
    assert names.isdisjoint(set(HEAVY) - {"pydantic"})


def test_a_layout_needs_no_kernel_and_no_mesh() -> None:
    code, names = loaded("layout", "redpoll", "--quiet")
    assert code == 0
    assert names.isdisjoint(set(HEAVY) - {"numpy", "pydantic"})
    assert {"numpy", "pydantic"} <= names


def test_progress_is_plain_lines_on_stderr_where_there_is_no_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    from neckmodel.cli.terminal.progress import Progress

    with Progress(quiet=False) as step:
        step("building redpoll")
    with Progress(quiet=True) as step:
        step("measuring redpoll")
    caught = capsys.readouterr()
    assert (caught.out, caught.err) == ("", "neckmodel: building redpoll\n")


def test_progress_moves_on_a_terminal_and_leaves_nothing_behind() -> None:
    """Run on a pseudo-terminal: the step is shown, and the line is cleared at the end."""
    import os
    import pty

    def read(end: int) -> bytes:
        got = b""
        try:
            while chunk := os.read(end, 4096):
                got += chunk
        except OSError:  # Linux ends a pseudo-terminal's output so
            pass
        return got

    script = (
        "import time\nfrom neckmodel.cli.terminal.progress import Progress\n"
        "with Progress(False) as step:\n    step('building redpoll')\n    time.sleep(0.4)\n"
    )
    ours, theirs = pty.openpty()
    env = environment() | {"TERM": "xterm", "COLUMNS": "80"}
    env.pop("NO_COLOR", None)
    child = subprocess.Popen([sys.executable, "-c", script], stderr=theirs, stdout=subprocess.DEVNULL, env=env)
    os.close(theirs)
    shown = read(ours).decode()
    os.close(ours)
    assert child.wait(HANGS) == 0
    assert "building redpoll" in shown
    assert shown.rstrip().endswith("\x1b[2K") or "\x1b[2K" in shown.split("building redpoll")[-1]
