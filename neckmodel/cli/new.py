"""`neckmodel new`: a commented design file to start from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import Json, Quiet

if TYPE_CHECKING:
    from neckmodel.design import Design

EACH_SAYS = "Above each key: what it is, what it may be, what is usual, and what it is if it is left out."


def new(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Name of the design; the file is NAME.toml.")],
    like: Annotated[
        str,
        typer.Option(
            "--like",
            metavar="DESIGN",
            help="The preset or the file to start from.",
            autocompletion=completion.designs,
        ),
    ] = "redpoll",
    unit: Annotated[
        str | None,
        typer.Option(
            "--units",
            metavar="UNIT",
            help="Unit of the new file: mm or in. Default: as in the one it starts from.",
            autocompletion=completion.units,
        ),
    ] = None,
    out: Annotated[str, typer.Option("--out", metavar="FOLDER", help="Folder for the file.")] = ".",
    json: Json = False,
    quiet: Quiet = False,
) -> None:
    """Write NAME.toml to edit, with a remark on every key. From a preset, or like a file of yours. Never overwrites."""
    from neckmodel import presets
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.saving import save
    from neckmodel.cli.terminal.out import say, say_json, tell
    from neckmodel.cli.words import unit_named
    from neckmodel.design import read_text

    wanted = None if unit is None else unit_named(unit)
    name = name.removesuffix(".toml")
    source = open_design(like, quiet=True)
    preset = presets.path_of(like)
    is_preset = preset is not None and Path(source.source.file) == preset
    text = _of_preset(source, preset.stem, name, wanted) if preset is not None and is_preset else None
    text = text or _of_file(source, name, wanted, Path(out))
    read_text(text, "new")  # an impossible name is refused here, in the words of the design file
    path = save(out, f"{name}.toml", text, overwrite=False)
    if json:
        say_json({"schema": "neckmodel/new/1", "name": name, "file": str(path), "like": like})
    else:
        say(f"wrote {path}, a copy of {'the preset ' if is_preset else ''}{like}")
    if not quiet:
        tell(f"neckmodel: next: edit it, then: neckmodel check {path}")


def _of_preset(design: Design, like: str, name: str, unit: str | None) -> str:
    """The preset's text with another name, a new remark at its top, and a remark on each key."""
    from neckmodel.design import read_text
    from neckmodel.design.annotations import LENGTHS_ARE, annotated
    from neckmodel.design.reading.units import convert, handy, renamed, without_end

    lines = renamed(design.source.text, name).splitlines()
    start = next((at for at, line in enumerate(lines) if line.strip() in ("", "#")), 0)
    text = "\n".join(lines[start:]) + "\n"
    told = f"# {name}: started from the preset {like}. Every size below is that preset's: make them yours."
    if unit is not None and unit != design.design.units:
        text = without_end(text) if design.heel.kind == "tenon" else text
        text = convert(read_text(text, "new"), unit, handy).text
        told += "\n# They are that preset's to 0.001 in, those over 4 in to 0.01 in." if unit == "in" else ""
    text = text.replace(LENGTHS_ARE[design.design.units], LENGTHS_ARE[unit or design.design.units])
    return f"{told}\n# {EACH_SAYS}\n{annotated(text)}"


def _of_file(design: Design, name: str, unit: str | None, folder: Path) -> str:
    """A maker's own file, its remarks kept, with another name and, if wanted, in another unit."""
    from neckmodel.design import read_text
    from neckmodel.design.reading.units import convert, renamed, repointed

    text = renamed(design.source.text, name)
    if unit is not None:
        text = convert(read_text(text, "new"), unit).text
    text = repointed(text, Path(design.source.file).parent, folder)
    return f"# {name}: a copy of {Path(design.source.file).name}.\n{text}"
