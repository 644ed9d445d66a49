"""The typer application: every command, in the order a maker meets them."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli.build import build
from neckmodel.cli.check import check
from neckmodel.cli.convert import convert
from neckmodel.cli.explain import explain
from neckmodel.cli.guard import Guarded
from neckmodel.cli.jig import jig
from neckmodel.cli.layout import layout
from neckmodel.cli.new import new
from neckmodel.cli.presets import presets
from neckmodel.cli.report import report
from neckmodel.cli.rods import rods
from neckmodel.cli.schema import schema
from neckmodel.cli.sheets import sheets
from neckmodel.cli.vary import vary

app = typer.Typer(
    name="neckmodel",
    cls=Guarded,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # plain text: half the time of `--help`, and read aloud without frames
    help="Design a neck blank for a fretted instrument and check it before any wood is cut.",
    epilog="Exit codes: 0 all checks pass, 1 a check failed, 2 the input or the call is wrong, 3 a fault of neckmodel.",
)
for command in (new, convert, presets, schema, layout, check, build, sheets, jig, report, rods, vary, explain):
    # a value of `vary` may be negative, which is no option
    app.command(context_settings={"ignore_unknown_options": True} if command is vary else None)(command)


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import PackageNotFoundError, version

        from neckmodel.cli.terminal.out import say

        try:
            say(f"neckmodel {version('neckmodel')}")
        except PackageNotFoundError:
            say("neckmodel (not installed)")
        raise typer.Exit


@app.callback()
def root(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version and exit.")
    ] = False,
) -> None:
    """Design a neck blank for a fretted instrument and check it before any wood is cut."""
