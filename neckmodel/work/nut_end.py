"""The order of work behind the nut: the head's outline, or the nut end with its clamp where there is no head."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.workshop.router import leaves_wood
from neckmodel.work.operation import words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def saw_head(layout: Layout) -> str:
    """How the head is sawn to its outline."""
    say, head = words_of(layout), layout.head
    ends = f"{say(head.near)} wide at the head line, {say(head.far)} at its far end, "
    drawn = "" if head.contour is not None else ends
    return (
        f"Saw the head to the outline of the head sheet ({say.printed('head')}): {drawn}{say(head.length)} long on its "
        "face."
    )


def saw_nut_end(layout: Layout) -> str:
    """How the nut end is sawn in plan. Where a slot comes out of it, it is sawn off before, to try the key."""
    say, head = words_of(layout), layout.head
    sawn = any(leaves_wood(layout, step) for step in layout.steps)
    off = "" if sawn else f", and saw it off square at x {say(head.x_far)}"
    return (
        f"The nut end is {say(head.near)} wide: saw it straight on both sides from x {say(head.x_far)}, and let the "
        f"sides flow out to it between x 0 and {say(head.x_swell)} as drawn on the marking-out sheet{off}."
    )


def clamp_holes(layout: Layout) -> list[str]:
    """A line for each hole of the clamp's screws; [] without any."""
    say = words_of(layout)
    return [
        f"{plain(hole.name)}: hole {say.tool(hole.diameter)} across, {say(hole.depth)} deep from the glue plane, at "
        f"x {say(hole.x)}, y {say(layout.across(hole.y))}: try the clamp over its marks first."
        for hole in (() if layout.clamp is None else layout.clamp.screws)
    ]
