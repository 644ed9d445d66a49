"""Glued bars in their places. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.rod.bounds import Bound, aslant, fretboard_end_key, x_wood_behind
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.strings.frets import Frets


BAR = "bar-"  # before a bar's number in its name, which its channel bears too
BAR_FIT = 0.10  # mm in all for the glue round a bar; common practice (0.10 to 0.20), no source


def is_bar(step: str) -> bool:
    """Whether a step of the channel, by its name, is a bar's."""
    return step.startswith(BAR)


@dataclass(frozen=True)
class Bar:
    """A glued bar: its size and place, mm; y of its centre line. below: its top under the glue plane. lower, upper:
    bounds on its nut-side end."""

    name: str
    x_start: float
    x_end: float
    y: float
    width: float
    height: float
    material: str
    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]
    below: float = BAR_FIT / 2

    @property
    def proud(self) -> float:
        """How far it stands above the glue plane, mm; 0 below it."""
        return 0.0 - min(self.below, 0.0)


def place_bars(design: Design, frets: Frets, x_wood_end: float, board: Fretboard) -> tuple[Bar, ...]:
    """The bars in their places; () where the design has none. Raises DesignError where the channels of two bars run
    into each other."""
    bars = design.bars
    if bars is None:
        return ()
    place, clearance, joint = design.rod_place, design.channel.end_clearance, design.neck.joint_fret
    half = (bars.width + BAR_FIT) / 2
    in_wood_to = tuple(
        Bound(b.reason, b.x - place.wood_beyond_rod - clearance - bars.length, b.key, b.value, shifts=True)
        for b in x_wood_behind(design, x_wood_end)
    )
    if bars.count == 2 and bars.offset < half:
        least = f"at least {no_less(half)}"
        raise design.problem("bars.offset", "the channels of the two bars run into each other", least)
    sides = (bars.offset,) if bars.count == 1 else (-bars.offset, bars.offset)
    placed = []
    for k, y in enumerate(sides):
        x_joint = frets.x(joint) + aslant(frets.slope(joint), half, y)
        gap = design.limits.place_adjuster + aslant(frets.slope(0), half, y)
        lower = (
            Bound("the gap from the nut", gap, "bars.from_nut"),
            Bound(
                "the bar past the joint", x_joint + place.past_joint - bars.length, "rod_place.past_joint", shifts=True
            ),
        )
        cover = board.x_end - abs(board.slope_end) * (abs(y) + half) - clearance - bars.length
        upper = (*in_wood_to, Bound("the fretboard's end", cover, fretboard_end_key(design), shifts=True))
        start, end, name = bars.from_nut, bars.from_nut + bars.length, f"{BAR}{k + 1}"
        placed.append(
            Bar(
                name=name,
                x_start=start,
                x_end=end,
                y=y,
                width=bars.width,
                height=bars.height,
                material=bars.material,
                lower=lower,
                upper=upper,
            )
        )
    return tuple(placed)
