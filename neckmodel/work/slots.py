"""The order of work of a slotted head: its bores, its slots and their ramps. All of it common practice, no source."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.lengths import listed
from neckmodel.work import cautions
from neckmodel.work.operation import Work, words_of
from neckmodel.work.strips import met_by_bores

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.slots import Roller, SlotPair
    from neckmodel.work.operation import Words

BORED = (
    "A slot is cut where the bores are: the cutter meets their edges. Keep the passes light there, and leave neither "
    "roller nor drill in them."
)
KEPT = 1.0  # mm of the slots' walls that are left to the cutter; the bulk goes with a drill


def bore_head(layout: Layout) -> Work | None:
    """Boring for the rollers, from the head's edges while they are straight and square, and before the slots are cut:
    the drill then has wood all the way. None for other heads."""
    pair = layout.slots
    if pair is None or not pair.rollers:
        return None
    say = words_of(layout)
    each = [
        f"{plain(one.name)}: from the {one.side} side, hole {say.tool(one.hole)} across, {say(-one.along)} from the "
        f"head line along the face, its axis {say(one.below)} below the face, to {say(one.sign * one.y_end)} from the "
        f"centre line{_from_edge(layout, one)}{'' if one.string is None else f'; for string {one.string}'}."
        for one in pair.rollers
    ]
    sizes = sorted({one.hole for one in pair.rollers})
    return Work(
        "Bore the head for its tuners",
        (
            "Do this while the head's edges are straight, parallel to the centre line and square to its face, and "
            "before the slots are cut: the drill then runs in wood all the way, and does not wander where it would "
            "leave a slot. Try a tuner in scrap first: its plate tells how far apart its rollers stand, and all holes "
            "of one side must stand as far apart.",
            "Mark each place along the face on both edges of the head, and its depth below the face. Bore in a stand, "
            "or along a guide, square to the edge, with a drill that cuts a clean rim and a stop on it.",
            *each,
            *met_by_bores(layout),
        ),
        (cautions.DRILL, cautions.DUST),
        checks=(
            f"a drill of {listed(say.tool(size) for size in sizes)} makes a hole in scrap in which a roller turns "
            "freely and without play",
            "a straight pin put into each hole lies square to the centre line and level with the face",
        ),
    )


def _from_edge(layout: Layout, one: Roller) -> str:
    """How deep a hole is from the blank's edge, in words; empty where wings make the head wider than the blank."""
    if layout.design.head.wings:
        return ""
    return f", {words_of(layout)(layout.blank_half_width - one.sign * one.y_end)} deep from the blank's edge"


def cut_slots(layout: Layout) -> Work | None:
    """Cutting the slots through the head; None for other heads."""
    pair = layout.slots
    if pair is None:
        return None
    say, off = words_of(layout), layout.design.workshop.tolerances.sideways
    ends = (
        f"The cutter leaves the ends round, of {say(pair.radius)} radius."
        if pair.radius > 0
        else "Square the ends with a chisel, from both faces toward the middle."
    )
    led = "a fence" if layout.design.workshop.guide_bush is None else "a template or a fence"
    return Work(
        "Cut the slots in the head",
        (
            f"Mark both slots on the head's face: from {say(-pair.near)} to {say(-pair.far)} from the head line along "
            f"the face, between {say(pair.inner)} and {say(pair.outer)} from the centre line on either side, so that "
            f"{say(pair.core)} of wood stay between them.",
            f"Take out the bulk with a drill in a stand, {say(KEPT)} inside the lines, with a scrap board under the "
            f"head. Then rout to the lines along {led}, in light passes, half of the depth from each "
            f"face where the cutter does not reach through. {ends}",
            *([BORED] if pair.rollers else []),
            *_ramps(pair, say),
        ),
        (cautions.DRILL, cautions.ROUTER, cautions.CHISEL, cautions.DUST),
        checks=(
            f"each slot is {say.between(pair.width, off)} wide, and {say.between(pair.core, 2 * off)} of wood stand "
            "between them",
            *(("every roller goes in from its side, through its slot, and turns freely",) if pair.rollers else ()),
        ),
    )


def _ramps(pair: SlotPair, say: Words) -> list[str]:
    if pair.ramp is None:
        return []
    length, angle = pair.ramp
    deep = (length + pair.radius) * math.tan(math.radians(angle))
    through = f", and on through its rounded end, where it is {say(deep)} deep" if pair.radius > 0 else ""
    return [
        f"Pare a ramp before each slot, as wide as the slot: from {say(-pair.ramp_start)} from the head line along the "
        f"face it falls by {angle:g} deg to {say(length * math.tan(math.radians(angle)))} below the face at the slot's "
        f"near end{through}. Saw its two sides first, then pare with a chisel toward the slot, and smooth it, so that "
        "no string catches."
    ]
