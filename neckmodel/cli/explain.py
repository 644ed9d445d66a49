"""`neckmodel explain`: what a check measures, its limit, and where that comes from."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli.options import Json


def explain(
    check: Annotated[str, typer.Argument(metavar="CHECK", help="Name of a check; all of them if left out.")] = "",
    json: Json = False,
) -> None:
    """Say what a check measures, its limit and where that comes from."""
