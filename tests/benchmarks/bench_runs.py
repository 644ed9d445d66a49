"""What the benchmarks share: processes whose processor time is known, and a record of a design's booleans."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import pytest

import neckmodel
from neckmodel.layout import Layout

HERE = Path(__file__).resolve().parent
ROOT = Path(neckmodel.__file__).resolve().parents[1]
NECKMODEL = ("-m", "neckmodel")


def run(*arguments: str, cwd: Path) -> float:
    """Processor time in seconds, user and system, of one Python process; the wall clock depends on the neighbours."""
    path = os.pathsep.join(part for part in (str(ROOT), os.environ.get("PYTHONPATH", "")) if part)
    child = subprocess.Popen(
        [sys.executable, *arguments],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": path},
    )
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode == 0, arguments
    return usage.ru_utime + usage.ru_stime


def least(commands: Sequence[Sequence[str]], rounds: int, cwd: Path) -> list[float]:
    """The least processor time of each command, s. They take turns, so that all meet the same neighbours."""
    times: list[list[float]] = [[] for _ in commands]
    for command in commands:  # once for nothing: files into memory, bytecode written
        run(*command, cwd=cwd)
    for _ in range(rounds):
        for command, found in zip(commands, times, strict=True):
            found.append(run(*command, cwd=cwd))
    return [min(found) for found in times]


def record(layout: Layout, folder: Path) -> int:
    """Build a design and leave the arguments of each of its booleans in `folder`, for bare.py; gives their number."""
    from OCP.BRepTools import BRepTools

    from neckmodel.solids import build
    from neckmodel.solids.kernel import gate

    count = 0
    original = gate._boolean

    def recording(kind: Any, solid: Any, tools: Iterable[Any], operation: str) -> Any:
        nonlocal count
        tools = list(tools)
        if tools:
            name = f"{count:03d}-{kind.__name__.removeprefix('BRepAlgoAPI_')}"
            for at, shape in enumerate([solid, *tools]):
                BRepTools.Write_s(getattr(shape, "wrapped", shape), str(folder / f"{name}-{at:03d}.brep"))
            count += 1
        return original(kind, solid, tools, operation)

    (folder / "fuzzy.txt").write_text(repr(gate.FUZZY))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(gate, "_boolean", recording)
        build(layout)
    return count
