"""An access slot deeper than a stepped head's face: it never leaves the head, and runs to its far end. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies import either, first_good
from neckmodel.checks.verdict import SLACK, up
from neckmodel.findings import Remedy

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step


def runs_out_at_far_end(layout: Layout, step: Step) -> bool:
    """Whether it is the access slot of a stepped head, and comes out through the head's far end."""
    return step.name == "access-slot" and layout.design.head.kind == "stepped" and _out(layout)


def trough_says(layout: Layout, step: Step) -> str:
    return (
        f"the access slot's floor lies {up(_below_face(layout, step)):.2f} mm below the head's face: it never leaves "
        "the wood, but runs on as a trough and out through the head's far end"
    )


def raised(layout: Layout, step: Step) -> Remedy | None:
    """A floor that is no deeper than the head's face: the adjuster nearer to the rod's top, the head stepped down more,
    or less play under the key."""
    design, by = layout.design, up(_below_face(layout, step))
    drop, play = design.head.drop + by, design.channel.key_clearance - by
    ways = [
        Remedy(f"head.drop = {drop:.2f} mm", {"head.drop": round(drop, 4)}),
        Remedy(f"channel.key_clearance = {play:.2f} mm", {"channel.key_clearance": round(play, 4)}),
    ]
    if design.rod is not None:
        axis = design.rod.adjuster.axis_below_top - by
        says = f"an adjuster whose axis lies {by:.2f} mm nearer to the rod's top"
        ways.insert(0, Remedy(says, {"rod.adjuster.axis_below_top": round(axis, 4)}))
    good = [way for way in ways if first_good(design, [way], lambda new: not _out(new))]
    return either(*good) if good else None


def _out(layout: Layout) -> bool:
    slot = next((step for step in layout.steps if step.name == "access-slot"), None)
    return slot is not None and slot.x_start <= layout.head.x_far + SLACK


def _below_face(layout: Layout, step: Step) -> float:
    return step.depth_start - layout.head.drop
