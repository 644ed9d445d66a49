"""The order of work: the bore in the body for a key that enters through the soundhole."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.work import cautions
from neckmodel.work.operation import Words, Work, words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.access.soundhole import BodyHole, Bore, SoundholeWay

LEVEL = 0.005  # deg; less is no angle
FINE = 0.1  # mm, in which drills are sold; common practice, no source


def drill_for(bore: Bore) -> float:
    """The drill for a bore: the next that is sold and no thinner, mm."""
    return math.ceil(bore.diameter / FINE - 1e-6) * FINE


def bore_body(layout: Layout) -> Work | None:
    """The body's block and braces bored, from the pocket that takes the neck, before the body is closed."""
    way, say = layout.soundhole_way, words_of(layout)
    if way is None:
        return None
    into = "mortise" if layout.heel.tenon is not None else "neck pocket"
    first = way.bores[0]
    down = way.top.over(way.x_wood) + first.axis(way.x_wood)
    marks = "the bore's middle on the centre line"
    if layout.paired:
        ys = " and ".join(f"y {say(layout.across(rod.y))}" for rod in layout.rods)
        marks = f"the middles of two bores, at {ys}"
    says = [
        f"In the body, with its {into} cut to the neck and before the back is glued on. On the end wall of the {into}, "
        f"x {say(way.x_wood)}, mark {marks}, {say(down)} below the top's upper side: that "
        f"is {say(first.axis(way.x_wood))} below the glue plane.",
        *(["Both bores are alike: what follows is done at each."] if layout.paired else []),
        *(_bored(bore, say) for bore in way.bores),
        *(_through(hole, say) for hole in way.holes),
        f"Drill from the {into} toward the soundhole, in a guide that lies as the neck will, for the bore follows the "
        f"neck and not the top{_angle(way)}. Back each brace with a block of scrap, or its far side breaks out.",
        "What lies between block, braces and soundhole is open air: nothing is cut there. Nor is anything of this cut "
        "in the neck, whose channel runs out through its end.",
    ]
    checks = [f"a rod as thick as the key across its corners, {say(way.diameter - 2 * _play(layout))}, goes through"]
    if way.braces:
        checks.append("each brace keeps as much wood over and under the bore as is told above")
    return Work(
        f"Bore the body for the key{'s' if layout.paired else ''}",
        tuple(says),
        (cautions.DRILL, cautions.DUST),
        checks=tuple(checks),
    )


def _play(layout: Layout) -> float:
    return layout.design.channel.key_clearance


def _bored(bore: Bore, say: Words) -> str:
    drill = say(drill_for(bore))
    lies = f"its middle {say(bore.axis_start)} below the glue plane"
    if abs(bore.axis_end - bore.axis_start) > 1e-6:
        lies += f" at its start and {say(bore.axis_end)} at its end"
    return (
        f"The {bore.what}'s bore: {say(bore.diameter)} in diameter, a drill of {drill}, from x {say(bore.x_start)} to "
        f"{say(bore.x_end)}, {lies}."
    )


def _through(hole: BodyHole, say: Words) -> str:
    span = f"x {say(hole.x_start)} to {say(hole.x_end)}, for the {hole.bore.what}"
    if hole.over is None or hole.under is None:
        return f"Through the block: {span}."
    return (
        f"Through {plain(hole.name)}: {span}; it keeps {say(hole.over.value)} of wood over the bore and "
        f"{say(hole.under.value)} under it."
    )


def _angle(way: SoundholeWay) -> str:
    angle = way.top.angle
    if abs(angle) < LEVEL:
        return ""
    nearer = "nearer to the top" if angle > 0 else "away from the top"
    return f" ({abs(angle):.2f} deg {nearer} as it goes)"


def key_words(layout: Layout) -> str:
    """How the key comes to the adjuster; "" where it enters at the face of the wood."""
    key = layout.key
    if layout.soundhole_way is None or key is None:
        return ""
    arm = ", its other arm hanging into the body" if key.hangs else ""
    bore = "either bore" if layout.paired else "the bore"
    return f"The key comes in through the soundhole and {bore}{arm}."
