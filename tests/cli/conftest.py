"""The command as a maker runs it: in this process for what it prints, as a process of its own for how it ends."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import Invoke, Process, environment
from typer.testing import CliRunner, Result
from waiting import HANGS

from neckmodel.cli import app


@pytest.fixture
def invoke(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Invoke:
    """`invoke("layout", "redpoll")` in an empty folder; stdout and stderr apart, the help without boxes."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TYPER_USE_RICH", "0")
    monkeypatch.setenv("COLUMNS", "100")
    runner = CliRunner()

    def run(*arguments: str, **extra: object) -> Result:
        return runner.invoke(app, list(arguments), **extra)  # type: ignore[arg-type]

    return run


@pytest.fixture
def process(tmp_path: Path) -> Process:
    """`process("layout", "redpoll", stdin="", env={...})`: a fresh interpreter in an empty folder."""

    def run(*arguments: str, stdin: str = "", env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "neckmodel", *arguments],
            input=stdin,
            capture_output=True,
            encoding="utf-8",
            cwd=tmp_path,
            env=environment() | (env or {}),
            timeout=HANGS,
            check=False,
        )

    return run
