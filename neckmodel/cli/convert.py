"""`neckmodel convert`: the same design in the other unit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import File, Json, Quiet

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.reading.units import Converted


def convert(
    file: File,
    unit: Annotated[
        str, typer.Option("--units", metavar="UNIT", help="The unit wanted: mm or in.", autocompletion=completion.units)
    ],
    out: Annotated[
        str | None, typer.Option("--out", metavar="FOLDER", help="Folder for the new file; by default FILE's own.")
    ] = None,
    in_place: Annotated[bool, typer.Option("--in-place", help="Put the new text in FILE itself.")] = False,
    json: Json = False,
    quiet: Quiet = False,
) -> None:
    """Write FILE in the other unit, as FILE-in.toml or FILE-mm.toml. Remarks, order and sizes with their own unit stay.

    A length moves by less than 0.0013 mm. One that is stated to 0.01 mm or to 0.0001 in comes back as it was.
    """
    from neckmodel.cli.guard import CallError
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.saving import save
    from neckmodel.cli.terminal.out import say, say_json, tell
    from neckmodel.cli.words import NAMED, unit_named
    from neckmodel.design.annotations import LENGTHS_ARE
    from neckmodel.design.reading.units import convert as in_unit

    wanted = unit_named(unit)
    if in_place and out is not None:
        raise CallError("--in-place and --out are two places for one file; keep one of them")
    design = open_design(file, quiet=True)
    made = in_unit(design, wanted)
    _refuse_broken(design, made, wanted)
    text = made.text.replace(LENGTHS_ARE[design.design.units], LENGTHS_ARE[wanted])
    there = design.design.units == wanted
    path = None
    if file == "-" and not json:
        say(text.rstrip("\n"))
    elif not there:
        folder, name = _place(file, design, wanted, out, in_place)
        path = save(folder, name, _moved(text, design, folder), overwrite=in_place)
    if json:
        found = {"unit": wanted, "file": None if path is None else str(path), "turned": made.turned, "kept": made.kept}
        say_json({"schema": "neckmodel/convert/1", "name": design.name, **found})
    elif path is not None:
        say(f"wrote {path}: {made.turned} lengths in {NAMED[wanted]}{_kept(made)}")
    elif there and file != "-":
        say(f"{file} is in {NAMED[wanted]} already; nothing is written")
    if path is not None and not quiet:
        old = NAMED[design.design.units]
        tell(f"neckmodel: remark: remarks in the file are kept word for word; a size that they name is still in {old}")


def _kept(made: Converted) -> str:
    if made.kept == 1:
        return ", 1 left as it is, with its own unit"
    return f", {made.kept} left as they are, with their own units" if made.kept else ""


def _place(file: str, design: Design, unit: str, out: str | None, in_place: bool) -> tuple[Path, str]:
    """(folder, name) of the new file. A preset, or a text from standard input, has no folder of its own."""
    from neckmodel import presets
    from neckmodel.cli.guard import CallError

    source = Path(design.source.file)
    own = file != "-" and source != presets.path_of(source.stem)
    if in_place:
        if not own:
            raise CallError("--in-place is for a file of your own; a preset stays as it is, write a copy of it")
        real = source.resolve()
        return real.parent, real.name
    return Path(out) if out is not None else source.parent if own else Path(), f"{source.stem}-{unit}.toml"


def _moved(text: str, design: Design, folder: Path) -> str:
    from neckmodel.design.reading.units import repointed

    return repointed(text, Path(design.source.file).parent, folder)


def _refuse_broken(design: Design, made: Converted, unit: str) -> None:
    """Raises an error where the new text is no valid design: a size that lay right on a limit may be rounded past
    it."""
    from neckmodel.design import read_text
    from neckmodel.errors import DesignError, Problem

    try:
        read_text(made.text, f"{Path(design.source.file).stem}-{unit}.toml")
    except DesignError as error:
        says = f"cannot be turned into {unit}: a size on its limit would come to lie beyond it"
        raise DesignError([Problem("the file", says), *error.problems], design.source.file) from None
