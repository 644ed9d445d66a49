"""A typer app with as many commands as neckmodel, each of which does nothing: the least a `--help` can cost.

python empty_app.py COUNT --help
"""

from __future__ import annotations

import sys

import typer

app = typer.Typer()


def nothing() -> None:
    """Do nothing at all."""


if __name__ == "__main__":
    for number in range(int(sys.argv.pop(1))):
        app.command(f"command-{number}")(nothing)
    app(prog_name="empty")
