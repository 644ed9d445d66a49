"""What the tests of the command share beside their fixtures."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from typer.testing import Result

import neckmodel

ROOT = Path(neckmodel.__file__).resolve().parents[1]

Invoke = Callable[..., Result]
Process = Callable[..., "subprocess.CompletedProcess[str]"]


def environment() -> dict[str, str]:
    """This process's environment, with the package found from any folder."""
    path = os.pathsep.join(part for part in (str(ROOT), os.environ.get("PYTHONPATH", "")) if part)
    return {**os.environ, "PYTHONPATH": path, "PYTHONIOENCODING": "utf-8"}


def started(folder: Path, *arguments: str) -> subprocess.Popen[str]:
    """Python with these arguments, running in a folder."""
    return subprocess.Popen(
        [sys.executable, *arguments],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        cwd=folder,
        env=environment(),
    )


def left(folder: Path) -> list[str]:
    """What lies in a folder, by name."""
    return sorted(path.name for path in folder.iterdir())
