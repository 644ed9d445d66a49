"""Scarfs that cannot be glued up."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.layout.wood.scarf import PLACES, Scarf, scarf_face
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.neck.outside import Outside

LEAST_PIECE = 20.0  # mm of the head piece's face beyond the seam; common practice, no source
CLOSE = 0.005  # mm to which the highest volute is found
LEAST_VOLUTE = 0.5  # mm; a lower one is left out
TOUCH = 0.05  # mm of wood below a seam: a splinter, for on a ramp the seam runs on in the plane of the head's back


def refuse_scarf(design: Design, outside: Outside, scarf: Scarf | None) -> None:
    """Raises DesignError for a scarf's seam that leaves too little to a piece, reaches the heel or parts a volute; a
    head in one piece has none."""
    if scarf is None:
        return
    head = outside.head
    if scarf.way == "under":
        left = head.length - scarf_face(scarf.shaft, head.angle)
        if left < LEAST_PIECE:
            raise design.problem(
                "head.scarf",
                f"the seam under a shaft {scarf.shaft:.2f} mm thick leaves {left:.2f} mm of the head's face to the "
                "head piece",
                f"at least {LEAST_PIECE:g} mm",
                'a longer head, a steeper angle, a thinner board, or "on-ramp"',
            )
    elif scarf.x_top > outside.heel.x_swell:
        raise design.problem(
            "head.scarf", "the seam on the ramp reaches into the heel's swell", "", "a steeper angle or a thinner head"
        )
    _refuse_island(design, outside, scarf)


def _refuse_island(design: Design, outside: Outside, scarf: Scarf) -> None:
    """Raises DesignError where a volute stands through the seam a second time: that part would be a loose piece."""
    volute = outside.head.volute
    if volute is None or not _is_island(outside, scarf):
        return

    def whole(height: float) -> bool:
        head = replace(outside.head, volute=replace(volute, height=height))
        return not _is_island(replace(outside, head=head), scarf)

    most = nearest_enough(whole, volute.height, 0.0, CLOSE) or 0.0
    under = scarf.way == "under"
    remedy = 'a thicker board, or head.scarf = "on-ramp"' if under else 'a steeper angle, or head.scarf = "under"'
    raise design.problem(
        "head.volute.height",
        f"stands below the shaft's board, {scarf.shaft:.2f} mm thick, apart from the head piece that is glued under it"
        if under
        else "stands below the seam on the ramp, apart from the shaft whose wood is there",
        f"at most {no_more(most)} with this {'board' if under else 'ramp'}" if most > LEAST_VOLUTE else "",
        remedy if most > LEAST_VOLUTE else f"leave the volute out, {remedy}",
    )


def _is_island(outside: Outside, scarf: Scarf) -> bool:
    """Whether the finished back passes through the seam more than once: under a shaft's board on its way down the head,
    or over a ramp on its way from the shaft."""
    start, end = outside.back.x_1, outside.head.x_far
    xs = [start + (end - start) * k / PLACES for k in range(PLACES + 1)]
    below = [outside.keel(x) > -scarf.seam(x) + TOUCH for x in xs]
    return sum(b and not a for a, b in itertools.pairwise(below)) > (1 if scarf.way == "under" else 0)
