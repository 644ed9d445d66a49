"""A key that comes in at the end of a neck without a head: how long it must be. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.key.reach import full_length

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout


@dataclass(frozen=True)
class NutEndReach:
    """length: of the key from its end in the socket, its handle included, or of an L-key's arm; least: that would do;
    x_edge: what it must reach past, mm; past: what that is."""

    length: float
    least: float
    x_edge: float
    past: str


def nut_end_reach(layout: Layout) -> NutEndReach | None:
    """None where no key comes in at the end of a neck without a head, or its length is not stated.

    A straight key stands `grip` past the neck's end and the clamp, engaged: `x_adj - x_edge + grip + e`. An L-key's
    other arm stands clear of both: `x_adj - x_edge + c + k_c + e`.
    """
    rod, key, stated = layout.rod, layout.key, layout.design.adjusting_key
    if not layout.head.is_none or rod is None or key is None or stated is None or rod.at_heel or key.kind == "bar":
        return None
    if key.kind != "L-key" and stated.length is None:
        return None
    x_edge, past = layout.head.x_far, "neck's end"
    if layout.clamp is not None and layout.clamp.past_end > 0:
        x_edge, past = layout.clamp.x_start, "clamp"
    beyond = key.corners + key.clearance if key.kind == "L-key" else stated.grip
    return NutEndReach(full_length(stated), rod.x_adjuster - x_edge + beyond + stated.engaged_depth, x_edge, past)
