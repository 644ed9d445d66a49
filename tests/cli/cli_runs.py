"""What the tests of the command share beside their fixtures."""

from __future__ import annotations

import os
import subprocess
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
