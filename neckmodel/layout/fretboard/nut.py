"""The nut on its ledge or in its groove, and the fretboard wood behind it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.design.values.scale import BEHIND_GROOVE
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class NutPlace:
    """The nut: from x_start to x_end on the centre line, as wide as the fretboard there, its bottom at z_seat, mm.

    slope: dx/dy of its faces. y_bass, y_treble: where its ends lie, if not half_width off the centre line.
    """

    x_start: float
    x_end: float
    half_width: float
    z_seat: float
    height: float
    slope: float = 0.0
    y_bass: float | None = None
    y_treble: float | None = None

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners in plan, mm: bass side back and front, treble side front and back."""
        bass = -self.half_width if self.y_bass is None else self.y_bass
        treble = self.half_width if self.y_treble is None else self.y_treble
        ends = ((self.x_start, bass), (self.x_end, bass), (self.x_end, treble), (self.x_start, treble))
        return tuple((x + self.slope * y, y) for x, y in ends)


def place_nut(design: Design, board: Fretboard) -> NutPlace:
    """The nut on its ledge, against the fretboard's end on the glue plane, or in its groove of depth `seat_depth`. Its
    thickness is square to its faces."""
    nut, slope = design.nut, board.slope_start
    seat = -nut.seat_depth if nut.seat == "groove" else 0.0
    back = board.x_start - nut.thickness * math.hypot(1.0, slope)
    (_, bass), (_, treble) = board.start
    placed = NutPlace(
        x_start=back,
        x_end=board.x_start,
        half_width=board.half_width(board.x_start),
        z_seat=seat,
        height=nut.height,
        slope=slope,
        y_bass=bass,
        y_treble=treble,
    )
    strip = nut_strip(placed, board)
    first = min(x for x, _ in (placed.corners if strip is None else strip.start))
    if design.head.kind == "none":
        _refuse_short_end(design, first, strip is not None)
    elif design.head.starts_at > first + 1e-6:
        far = "nut" if strip is None else "fretboard wood behind the nut"
        at_most = f"at most {no_more(first)}, the far side of the {far}"
        raise design.problem("head.starts_at", "lies under the nut", at_most)
    return placed


def _refuse_short_end(design: Design, first: float, has_strip: bool) -> None:
    """Raises DesignError where the nut end of a neck without a head does not carry the nut."""
    end = design.head.end
    if end is not None and -end.length > first + 1e-6:
        far = "fretboard wood behind the nut" if has_strip else "nut"
        says = f"does not carry the whole {far}, which reaches to x {first:.2f} mm"
        raise design.problem("head.end.length", says, f"at least {no_less(-first)}")


def nut_strip(nut: NutPlace, board: Fretboard) -> Fretboard | None:
    """The fretboard wood behind a nut in a groove, with the crown that it has at the nut; None for a nut on a ledge."""
    if nut.z_seat == 0:
        return None
    radius, back = board.radius_nut, nut.x_start - BEHIND_GROOVE * (nut.x_end - nut.x_start)
    return replace(
        board,
        x_start=back,
        x_end=nut.x_start,
        slots=(),
        radius_nut=radius,
        radius_end=radius,
        slope_start=nut.slope,
        slope_end=nut.slope,
    )
