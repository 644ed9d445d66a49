"""Remedies for an access slot that does not leave the wood where it should: on a stepped head one that is deeper than
the head's face, at the heel one that ends just before the wood does. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import SLACK, up
from neckmodel.layout.channel.step import FOR_THE_KEY, EndKind, StepName

if TYPE_CHECKING:
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step


def runs_out_at_far_end(layout: Layout, step: Step) -> bool:
    """Whether the step is the access slot of a stepped head and comes out through the head's far end."""
    return step.kind == StepName.ACCESS_SLOT and layout.design.head.kind == "stepped" and _out(layout)


def closed_slot_words(layout: Layout, step: Step) -> str:
    """The words for an access slot that never leaves the wood before the head's far end."""
    return (
        f"the access slot's floor lies {up(_below_face(layout, step)):.2f} mm below the head's face: it never leaves "
        "the wood, but runs on as a trough and out through the head's far end"
    )


def raised(layout: Layout, step: Step) -> Remedy | None:
    """Makes the floor no deeper than the head's face: the adjuster nearer to the rod's top, the head stepped down more,
    or less clearance under the key. Face and floor may each be off by the depth tolerance."""
    design, by = layout.design, _below_face(layout, step)
    now = {"head.drop": design.head.drop, "channel.key_clearance": design.channel.key_clearance}
    if design.rod is not None:
        now = {"rod.adjuster.axis_below_top": design.rod.adjuster.axis_below_top} | now

    def ways(aim: Aim) -> Remedy | None:
        found = []
        for key, value in now.items():
            more = by + aim.spare
            settings = {key: aim.up(key, value + more) if key == "head.drop" else aim.down(key, value - more)}
            found.append(possible(design, settings, lambda new: not _out(new)))
        return any_of(*found)

    return graded(design, ways, design.workshop.tolerances.depth)


def _out(layout: Layout) -> bool:
    slot = next((step for step in layout.steps if step.kind == StepName.ACCESS_SLOT), None)
    return slot is not None and slot.x_start <= layout.head.x_far + SLACK


def _below_face(layout: Layout, step: Step) -> float:
    return step.depth_start - layout.head.drop


def run_out(layout: Layout, aim: Aim) -> Remedy | None:
    """For a key's slot that ends inside the heel: the rod nearer to the body, or the wood shorter, until the slot runs
    out of the wood's end and the key needs no pocket to turn in."""
    design, rod, by = layout.design, layout.rod, left_at_end(layout) + aim.spare
    if rod is None or by <= aim.spare + SLACK:
        return None
    place, wood = "rod_place.from_nut", "heel.wood_ends_at"
    ways = ({place: aim.up(place, rod.x_start + by)}, {wood: aim.down(wood, layout.heel.x_end - by)})
    return any_of(*(possible(design, way, _open_at_end) for way in ways))


def left_at_end(layout: Layout) -> float:
    """How much wood is left beyond a key's slot that ends inside the heel, mm; 0 where none does."""
    ends = [s.x_end for s in layout.steps if s.kind in FOR_THE_KEY and s.end_end != EndKind.OPEN]
    return layout.heel.x_end - max((x for x in ends if x > 0), default=layout.heel.x_end)


def _open_at_end(layout: Layout) -> bool:
    """Whether the key's slot runs out of the wood's end."""
    return all(step.end_end == EndKind.OPEN for step in layout.steps if step.kind in FOR_THE_KEY)
