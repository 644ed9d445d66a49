"""Nuts whose groove leaves too little wood."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.refusals.measured import naming_measured
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.fretboard.nut import NutPlace
    from neckmodel.layout.neck.back import Back


LEAST_UNDER_NUT = 6.0  # of wood under the floor of a nut's groove


@naming_measured
def refuse_nut(design: Design, nut: NutPlace, back: Back) -> None:
    """Raises DesignError where a nut's groove leaves too little wood under it."""
    thinnest = min(nut.x_start, nut.x_end, key=back.depth)
    wood = back.depth(thinnest) + nut.z_seat
    if nut.z_seat < 0 and wood < LEAST_UNDER_NUT:
        most = math.floor(100 * (back.depth(thinnest) - LEAST_UNDER_NUT)) / 100
        says = f"leaves {wood:.2f} mm of wood under the nut's groove"
        raise design.problem("nut.seat_depth", says, f"at most {no_more(most)}")
