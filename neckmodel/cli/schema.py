"""`neckmodel schema`: the design file's JSON schema, for editors that complete and check while you type."""

from __future__ import annotations

from typing import Annotated

import typer

FILE = "design.schema.json"


def schema(
    out: Annotated[
        str | None, typer.Option("--out", metavar="FOLDER", help=f"Write {FILE} into this folder instead.")
    ] = None,
) -> None:
    """Print the JSON schema of the design file."""
    import json

    from neckmodel.cli.out import say, say_json
    from neckmodel.cli.saving import save
    from neckmodel.design.schema import json_schema

    data = json_schema()
    if out is None:
        say_json(data)
    else:
        text = json.dumps(data, indent=1, ensure_ascii=False)
        say(f"wrote {save(out, FILE, f'{text}{chr(10)}', overwrite=True)}")
