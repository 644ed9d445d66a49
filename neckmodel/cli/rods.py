"""`neckmodel rods`: which of the maker's own rods fit a design, where, and with what margin."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli.options import File, Json, Out, Quiet, Set

if TYPE_CHECKING:
    from neckmodel.variants import Fit


def rods(
    file: File,
    rods: Annotated[
        str,
        typer.Argument(metavar="RODS", help=r"A TOML file of rods: [[rod]] tables, each like [rod], with a name."),
    ],
    set_: Set = None,
    json: Json = False,
    out: Out = None,
    quiet: Quiet = False,
) -> None:
    """Try each rod of a list in the design. Does it fit, where would it sit best, what binds. Needs no CAD kernel."""
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.saving import refuse_place, save
    from neckmodel.cli.terminal.out import say_json
    from neckmodel.variants import fit_rods, read_rods
    from neckmodel.variants.json import rods_json
    from neckmodel.writers.jsons import dumps

    design = open_design(file, set_, quiet)
    refuse_place(out, "rods.json")
    fits = fit_rods(design, read_rods(rods))
    data = rods_json(design.name, fits)
    if json:
        say_json(data)
    else:
        _show(design.name, fits, design.design.units)
    if out is not None:
        save(out, "rods.json", dumps(data), overwrite=True)
    if not any(fit.fits for fit in fits):
        raise typer.Exit(FAILED)


def _says(fit: Fit) -> str:
    """`too long: the gap from the nut and the wood's end leave no place, 8.76 mm are lacking`."""
    return f"{fit.wrong.partition(' mm ')[2]}: {fit.says}" if fit.wrong else fit.says


def _room(fit: Fit) -> tuple[float | None, float | None]:
    """x between which a rod may start; (None, None) where it has no place."""
    if fit.x_from is None or fit.x_to is None or fit.x_from > fit.x_to:
        return None, None
    return fit.x_from, fit.x_to


def _show(name: str, fits: tuple[Fit, ...], unit: str) -> None:
    from neckmodel.cli.terminal.findings import sign
    from neckmodel.cli.terminal.table import Column, show_lines, show_table
    from neckmodel.findings import FAIL, PASS
    from neckmodel.lengths import in_unit, length

    good = sum(fit.fits for fit in fits)
    show_lines(f"{name}: {good} of {len(fits)} {'rod fits' if len(fits) == 1 else 'rods fit'}")
    columns = [
        Column("fits"),
        Column("rod", least=8),
        *(Column(title, number=True) for title in ("long", "best at", "may start from", "to", "least margin")),
        Column("because", least=24),
    ]
    rows = [
        (
            f"{sign(PASS if fit.fits else FAIL)} {'yes' if fit.fits else 'no'}",
            fit.name,
            *(length(v, unit) for v in (fit.length, fit.x_start, *_room(fit), fit.margin)),
            in_unit("; ".join(text for text in (_says(fit), fit.warns) if text), unit),
        )
        for fit in fits
    ]
    unit_says = "mm" if unit == "mm" else "inches, the nearest 1/64 in brackets"
    show_table(f"Lengths in {unit_says}; places of the rod's nut-side end, from the nut.", columns, rows)
    show_lines(
        "",
        "By layout and cross-sections, without solids: access, holes and overlaps are not looked at. Put the rod into "
        "the design as its [rod], with the place as rod_place.from_nut, and run `neckmodel check`. Trial-fit the rod "
        "in a cut in scrap before you cut the neck.",
    )
