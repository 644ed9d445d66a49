"""strength/moisture: what a dry and a damp season do to fretboard, neck and relief. An estimate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.verdict import SLACK, place
from neckmodel.errors import Problem
from neckmodel.findings import Finding
from neckmodel.strength.moisture import DAMP, DRY, moisture_estimate
from neckmodel.strength.own_woods import lacking, wood_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.moisture import MoistureEstimate

CHECK = "strength/moisture"
PROUD = 0.2  # mm a side by which fret ends may come to stand proud; a hand feels more. Common practice, no source
BASIS = (
    "estimate: Wood Handbook FPL-GTR-282 (2021), equation 4-6, shrinkage of table 4-3 and movement of table 13-5; "
    f"air of {100 * DRY:.0f} and {100 * DAMP:.0f} % relative humidity, the limit, and a fretboard judged as "
    "quarter-sawn: common practice, no source"
)


def moisture_gap(layout: Layout) -> Problem | None:
    """What the design would have to state for the estimate: woods that are known, and how the fretboard's one moves."""
    design = layout.design
    for key, name in (("neck.wood", design.neck.wood), ("fretboard.wood", design.fretboard.wood)):
        problem = lacking(design, key, name)
        if problem is not None:
            return problem
    board = wood_of(design, design.fretboard.wood)
    if board is not None and board.change("quarter") is None and board.change("flat") is None:
        key = f"woods.{design.fretboard.wood}.shrinkage_radial"
        return Problem(key, f'is not stated, and the table of woods has no shrinkage of "{board.name}"')
    return None


def check_moisture(layout: Layout) -> Finding:
    """How far the fret ends come to stand proud when the fretboard dries; called where `moisture_gap` finds nothing.

    No key states how a fretboard is sawn: it is judged as quarter-sawn, as most are (common practice, no source), and
    told for flat-sawn too. That is another board, not a worst case of this one. Where the wood's movement is known one
    way only, that way is judged."""
    design, board = layout.design, layout.fretboard
    neck, wood = wood_of(design, design.neck.wood), wood_of(design, design.fretboard.wood)
    assert neck is not None  # `moisture_gap` looked
    assert wood is not None
    found = moisture_estimate(layout, neck, wood)
    proud = {
        how: move / 2
        for how, move in (("quarter", found.fretboard_quarter), ("flat", found.fretboard_flat))
        if move is not None
    }
    judged = next(iter(proud.values()))
    more = {
        "moisture_dry": found.moisture[0],
        "moisture_damp": found.moisture[1],
        **{f"fretboard_{how}": 2 * value for how, value in proud.items()},
        **{f"proud_{how}": value for how, value in proud.items()},
        "neck": found.neck,
        "bow": found.bow,
    }
    return Finding(
        CHECK,
        "fretboard",
        "warn" if judged > PROUD + SLACK else "pass",
        _says(found, proud),
        round(judged, 4),
        0.0,  # a formula over the layout: nothing is measured
        PROUD,
        basis=BASIS,
        at=place(layout, (board.x_end, board.half_width(board.x_end), board.thickness)),
        more={name: round(value, 4) for name, value in more.items() if value is not None},
    )


def _says(found: MoistureEstimate, proud: dict[str, float]) -> str:
    dry, damp = found.moisture
    sides = ", ".join(f"{value:.2f} mm a side if {how}-sawn" for how, value in proud.items())
    ends = " or ".join(f"{2 * value:.2f} mm" for value in proud.values())
    says = (
        f"an estimate: from a damp season to a dry one ({100 * DAMP:.0f} to {100 * DRY:.0f} % relative humidity, "
        f"{damp:.1f} to {dry:.1f} % of moisture in the wood) the fretboard's end shrinks by {ends}, and fret ends cut "
        f"flush come to stand proud by {sides}: {_judged(proud)}"
    )
    if found.neck is not None:
        says += f"; the neck's width at the joint changes by {found.neck:.2f} mm"
    if found.bow is not None:
        says += f"; unlike movement along the grain may add up to {found.bow:.2f} mm of relief, or take it away"
    return says


def _judged(proud: dict[str, float]) -> str:
    how, *others = proud
    says = f"judged as {how}-sawn, for the design has no key for a fretboard's sawing"
    if any(proud[other] > PROUD + SLACK >= proud[how] for other in others):
        says += f"; {' or '.join(others)}-sawn it is over the limit of {PROUD:.2f} mm"
    return says
