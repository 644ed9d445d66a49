"""strength/moisture: the effect of a dry and a damp season on fretboard, neck and relief. An estimate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.verdict import SLACK, place
from neckmodel.errors import Problem
from neckmodel.findings import PASS, WARN, Finding, range_finding
from neckmodel.limits import PROUD
from neckmodel.strength.materials.own import woods_of
from neckmodel.strength.moisture import moisture_estimate, moistures

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout import Layout
    from neckmodel.strength.materials.woods import Wood
    from neckmodel.strength.moisture import MoistureEstimate

CHECK = "strength/moisture"
RINGS, STATED_BY = ("quarter", "flat"), {"quarter": "radial", "flat": "tangential"}
BASIS = (
    "estimate: Wood Handbook FPL-GTR-282 (2021), equation 4-5, shrinkage of table 4-3 and movement of table 13-5; the "
    "limit, and what seasons and fretboard.rings are unless stated: common practice, no source"
)


def _woods(layout: Layout) -> tuple[tuple[Wood, ...], Wood] | Problem:
    """The woods of neck and fretboard; or what the design must still state for the estimate: seasons that differ, known
    woods, and a known movement of the fretboard's wood."""
    design = layout.design
    dry, damp = moistures(design)
    if damp <= dry:
        air = f"{design.seasons.damp.temperature:g} °C"
        return Problem("seasons.damp.temperature", "leaves the wood no damper than in the dry season", air)
    woods = woods_of(design)
    if isinstance(woods, Problem):
        return woods
    board = woods[1]
    rings = design.fretboard.rings
    # a flat-sawn board moves most, so the quarter-sawn figure must not be used for it
    wanted = [rings] if rings == "flat" else RINGS
    if all(board.change(way) is None for way in wanted):
        key = f"woods.{design.fretboard.wood}.shrinkage_{STATED_BY[rings]}"
        sawn = " flat-sawn" if rings == "flat" else ""
        return Problem(key, f'is not stated, and the table of woods has no{sawn} shrinkage of "{board.name}"')
    return woods


def check_moisture(layout: Layout) -> Finding | Problem:
    """How far the fret ends stand proud when the fretboard dries; or what the design must still state for it.

    Where the sawing is not stated the fretboard counts as quarter-sawn, as most are (common practice, no source), and
    the text names the value for flat-sawn too; that is another board, not a worst case of this one. A wood whose
    movement is known flat-sawn only counts as flat-sawn.
    """
    design, board = layout.design, layout.fretboard
    woods = _woods(layout)
    if isinstance(woods, Problem):
        return woods
    found = moisture_estimate(layout, *woods)
    proud = {
        how: move / 2
        for how, move in zip(RINGS, (found.fretboard_quarter, found.fretboard_flat), strict=True)
        if move is not None
    }
    how = design.fretboard.rings if design.fretboard.rings in proud else next(iter(proud))
    ends = {} if layout.fretless else {f"proud_{way}": value for way, value in proud.items()}
    more = {
        "moisture_dry": found.moisture[0],
        "moisture_damp": found.moisture[1],
        **{f"fretboard_{way}": 2 * value for way, value in proud.items()},
        **ends,
        "neck": found.neck,
        "bow": found.bow,
        "board": found.board,
    }
    held = not layout.fretless  # without frets nothing comes to stand proud, and the fretboard's move is only told
    return range_finding(
        check=CHECK,
        part="fretboard",
        verdict=WARN if held and proud[how] > PROUD + SLACK else PASS,
        says=_says(design, found, proud, how),
        measured=round(proud[how] if held else 2 * proud[how], 4),
        error=0.0,  # a formula over the layout, in which nothing is measured
        limit=PROUD if held else None,
        held=(None, PROUD) if held else None,
        basis=BASIS,
        at=place(layout, (board.x_end, board.half_width(board.x_end), board.thickness)),
        more={name: round(value, 4) for name, value in more.items() if value is not None},
    )


def _says(design: Design, found: MoistureEstimate, proud: dict[str, float], how: str) -> str:
    dry, damp = found.moisture
    air = [f"{a.humidity:g} % relative humidity at {a.temperature:g} °C" for a in (found.damp, found.dry)]
    stated = design.stated("fretboard.rings") and how == design.fretboard.rings
    told = {how: proud[how]} if stated else proud
    sides = ", ".join(f"{value:.2f} mm a side if {way}-sawn" for way, value in told.items())
    ends = " or ".join(f"{2 * value:.2f} mm" for value in told.values())
    if design.fretboard.fretless is not None:
        each = " or ".join(f"{2 * value:.2f} mm {way}-sawn" for way, value in told.items())
        return _with_neck(
            f"an estimate: from a damp season to a dry one ({air[0]} to {air[1]}: {damp:.1f} to {dry:.1f} % of "
            f"moisture in the wood) the fretboard's end shrinks by {each}",
            found,
        )
    if stated:
        sides = f"{proud[how]:.2f} mm a side, {how}-sawn as it is"
    says = (
        f"an estimate: from a damp season to a dry one ({air[0]} to {air[1]}: {damp:.1f} to {dry:.1f} % of moisture in "
        f"the wood) the fretboard's end shrinks by {ends}, and fret ends cut flush come to stand proud by {sides}"
    )
    return _with_neck(says if stated else f"{says}: {_judged_as(design, proud, how)}", found)


def _with_neck(says: str, found: MoistureEstimate) -> str:
    if found.neck is not None:
        says += f"; the neck's width at the joint changes by {found.neck:.2f} mm"
    if found.board is not None:
        says += f"; the width of the board of strips by {found.board:.2f} mm"
    if found.bow is not None:
        says += f"; unlike movement along the grain may add up to {found.bow:.2f} mm of relief, or take it away"
    return says


def _judged_as(design: Design, proud: dict[str, float], how: str) -> str:
    if how != design.fretboard.rings:
        return f"judged as {how}-sawn, the only way of which this wood's movement is known"
    says = f"judged as {how}-sawn, for fretboard.rings is not stated"
    if any(value > PROUD + SLACK >= proud[how] for value in proud.values()):
        others = " or ".join(way for way in proud if way != how)
        says += f"; {others}-sawn it is over the limit of {PROUD:.2f} mm"
    return says
