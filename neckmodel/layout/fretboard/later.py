"""The bass side beside a string that starts later than the nut: narrower up to a step before a fret. mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.design.values.scale import Spans, fret_share
from neckmodel.geometry.smooth import smoothstep
from neckmodel.layout.strings.strings import string_ends

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class LaterSide:
    """By how much the bass edge lies nearer to the centre line than beside the first string: `gap + slope x` as far as
    x_from, then less by a smoothstep, and 0 from x_to on."""

    gap: float
    slope: float
    x_from: float
    x_to: float

    def inward(self, x: float) -> float:
        """How far the edge lies inward at x, mm."""
        if x >= self.x_to:
            return 0.0
        u = max((x - self.x_from) / (self.x_to - self.x_from), 0.0)
        return (self.gap + self.slope * x) * (1.0 - smoothstep(u))


def later_side(design: Design, spans: Spans) -> LaterSide | None:
    """The bass side of a neck whose first string starts later; None where it starts at the nut. Before the step the
    edge lies beside the next string, by the same margin."""
    fret = design.fretboard.step_at_fret
    if design.strings.later is None or fret is None:
        return None
    ends = string_ends(design)
    gap, at_bridge = ends.nut[1] - ends.nut[0], ends.bridge[1] - ends.bridge[0]
    x_step = spans.centre * fret_share(fret)
    return LaterSide(gap, (at_bridge - gap) / spans.centre, x_step - design.fretboard.step_length, x_step)
