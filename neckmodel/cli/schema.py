"""`neckmodel schema`: the design file's JSON schema, for editors that complete and check while you type."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli.options import Json, Quiet

FILE = "design.schema.json"


def schema(
    out: Annotated[
        str | None, typer.Option("--out", metavar="FOLDER", help=f"Write {FILE} into this folder instead.")
    ] = None,
    json: Json = False,  # noqa: ARG001 (it is JSON in any case)
    quiet: Quiet = False,  # noqa: ARG001 (every command takes it)
) -> None:
    """Print the JSON schema of the design file."""
    from neckmodel.cli.saving import save
    from neckmodel.cli.terminal.out import say, say_json
    from neckmodel.design.schema import json_schema
    from neckmodel.writers.jsons import dumps

    data = json_schema()
    if out is None:
        say_json(data)
    else:
        say(f"wrote {save(out, FILE, dumps(data), overwrite=True)}")
