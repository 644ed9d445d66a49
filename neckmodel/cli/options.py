"""The options that several commands share, worded once."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli import completion

File = Annotated[
    str,
    typer.Argument(
        metavar="FILE",
        help="A design file, the name of a preset, or - for standard input.",
        autocompletion=completion.designs,
    ),
]
Set = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="KEY=VALUE",
        help="Override one value of the file, dotted key; repeatable.",
        autocompletion=completion.settings,
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")]
Quiet = Annotated[bool, typer.Option("--quiet", "-q", help="No progress and no remarks on stderr.")]
Out = Annotated[
    str | None,
    typer.Option("--out", metavar="FOLDER", help="Write the JSON into this folder as well."),
]
