"""The order of work on the channel: routing it and the access slot, and trying the parts that go in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.cutters import IN_STEPS
from neckmodel.layout.channel.step import FOR_THE_KEY, EndKind, plain
from neckmodel.layout.measured.shims import shims
from neckmodel.layout.workshop.feed import along_edge, along_fence, base_reach
from neckmodel.layout.workshop.router import leaves_wood, router_settings
from neckmodel.lengths import listed, with_unit
from neckmodel.strength.bending.blank import PRESS, blank_sag
from neckmodel.work import cautions
from neckmodel.work.blank import ends_early
from neckmodel.work.operation import Work, words_of
from neckmodel.work.rod import each_of_two, felt_free, way_up
from neckmodel.work.router import from_to

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace

LEAST_SAG = 0.01  # mm; less sag is not mentioned


def _cuts(layout: Layout, for_key: bool) -> tuple[str, ...]:
    """The steps in the order in which they are routed, the wider ones first. If a narrow step that runs into a wide one
    were cut first, the wide one's first line would have wood on its right only, and the cutter would climb."""
    if layout.back_strip is not None:  # routed from the back, later
        return ()
    steps = [step for step in layout.steps if (step.kind in FOR_THE_KEY) == for_key]
    return tuple(step.name for step in sorted(steps, key=lambda step: -step.width))


def _routing_cautions(layout: Layout) -> tuple[str, ...]:
    printed = () if layout.design.workshop.guide_bush is None else (cautions.PRINTED,)
    return (cautions.ROUTER, cautions.DUST, *printed)


def rout_channel(layout: Layout) -> Work | None:
    """Routing the channel; None without one."""
    chief = _cuts(layout, for_key=False)
    if not chief:
        return None
    feed, guide = along_fence(layout), along_edge(layout)
    order = "Keep to the order of the cuts below, the wider ones first. " if len(chief) > 1 else ""
    says = [
        _blank_on_bench(layout),
        *_carried(layout),
        f"Along the fence feed {from_to(layout, feed)}, the fence on your {feed.hand}. The "
        "cutter turns clockwise seen from above, so in a full groove the wood pushes the router to your left, against "
        f"the fence. Where a step takes more lines than one, cut the {feed.first} side first; each next line then "
        "cuts on its left, against the feed.",
        f"With an edge guide it is the other way round: feed {from_to(layout, guide)}, the "
        f"guide on your {guide.hand}, and cut the {guide.first} side first. {order}Any other way the cutter climbs: "
        "never feed it so.",
        "Set fence, stops and depth by a cut in scrap, and measure that cut before you touch the blank. Cut each line "
        "through all its depths before you move the fence.",
        _sawn_first(layout),
    ]
    return Work("Rout the channel", tuple(says), _routing_cautions(layout), chief)


def _blank_on_bench(layout: Layout) -> str:
    """How the blank lies while it is routed."""
    if layout.scarf is None:
        return (
            "Rout in the square, before the side profile is sawn: the whole under side lies on the bench, and the "
            "router's base has no step to tip over."
        )
    return (
        "Rout before the side profile is sawn: the shaft's whole under side lies on the bench, the head hangs over the "
        "bench's end."
    )


def _carried(layout: Layout) -> list[str]:
    """What carries the router's base beside the blank, and over a head that falls away."""
    say, reach = words_of(layout), base_reach(layout, router_settings(layout))
    span = "along its whole length and farther" if reach is None else f"from x {say(reach[0])} to {say(reach[1])}"
    said = [f"{_packing(layout)} so that the base does not tip there."] if layout.scarf is not None else []
    said.append(
        f"Clamp a straight strip along either side of the blank, level with the glue plane, {span}: they carry the "
        "router's base, and the bass-side one carries the fence. With an edge guide in place of the fence, leave the "
        "bass-side strip away."
    )
    return said


def _packing(layout: Layout) -> str:
    """The packing on the head's face under the router's base, as far as the base reaches."""
    say, head, reach = words_of(layout), layout.head, base_reach(layout, router_settings(layout))
    x_to = head.x_far if reach is None else max(reach[0], head.x_far)
    span = f"from the head line at x {say(head.x_line)} to x {say(x_to)}"
    if head.kind == "stepped":
        return f"Lay scrap as thick as the step is high, {say(head.drop)}, on the head's face {span},"
    deep = (head.x_line - x_to) * math.tan(math.radians(head.angle))
    return f"Lay a wedge of scrap, {head.angle:g} deg, on the head's face {span}, where it is {say(deep)} thick,"


def _sawn_first(layout: Layout) -> str:
    """What a blank needs if its side profile is sawn already, as for a machine."""
    sag, say = blank_sag(layout), words_of(layout)
    says = "If the side profile is sawn already, the shaft stands free"
    if sag is not None and sag.sag >= LEAST_SAG:
        says += (
            f" over {say(sag.span)}, {say(sag.width)} wide and {say(sag.thinnest)} at its thinnest, and sags by some "
            f"{say(sag.sag)} under {PRESS:g} N, the weight of a router and two hands (an estimate)"
        )
    says += ": pack it from below until it gives no more."
    reach = base_reach(layout, router_settings(layout))
    if layout.head.is_none:
        return says
    if layout.scarf is None and (reach is None or reach[0] < layout.head.x_line):
        over = "step" if layout.head.kind == "stepped" else "head line"
        says += f" {_packing(layout)} so that the base does not tip over the {over}."
    return says


def try_parts(layout: Layout) -> Work | None:
    """Squaring the corners, and trying rod and bars; None without a channel."""
    chief = _cuts(layout, for_key=False)
    if not chief:
        return None
    rod = layout.rod
    says: list[str] = []
    checks: list[str] = []
    corners = _corners(layout, chief)
    if corners:
        says.append("With a chisel, square the corners that are drawn, down to the floor.")
    if rod is not None:
        says += [*each_of_two(layout), *_rod_trial(layout, rod)]
        checks.append(f"{'each' if layout.paired else 'the'} rod goes in and comes out by hand")
    if layout.bars:
        names = listed(plain(bar.name) for bar in layout.bars)
        says.append(f"Try {names}: an easy push fit, with room for glue at the sides.")
        checks += _bars_lie(layout)
    title = "Square the corners and try the parts" if corners else "Try the parts"
    chisel = (cautions.CHISEL,) if corners else ()
    saw = (cautions.SAW, cautions.DUST) if ends_early(layout) else ()
    return Work(title, tuple(says), (*chisel, *saw), checks=tuple(checks))


def _bars_lie(layout: Layout) -> list[str]:
    """How deep the bars lie on their channels' floors without glue under them; those alike in one line."""
    say, by_depth = words_of(layout), dict[tuple[float, float], list[str]]()
    for bar in layout.bars:
        dry = layout.step(bar.name).depth - bar.height
        by_depth.setdefault((bar.below, dry), []).append(plain(bar.name))
    said = []
    for (below, dry), names in by_depth.items():
        lies, stands = ("lies", "stands") if len(names) == 1 else ("lie", "stand")
        said.append(
            f"dry, {listed(names)} {lies} {say(dry)} below the glue plane"
            if below >= 0
            else f"{listed(names)} no longer {stands} {say(-below)} above the glue plane: deepen that channel"
        )
    return said


def _corners(layout: Layout, names: tuple[str, ...]) -> bool:
    settings = [setting for setting in router_settings(layout) if setting.step.name in names]
    if any(setting.cutting.corners_at for setting in settings):
        return True
    return any(EndKind.SQUARE in (layout.step(name).end_start, layout.step(name).end_end) for name in names)


def _rod_trial(layout: Layout, rod: RodPlace) -> list[str]:
    say = words_of(layout)
    said = [felt_free(rod)]
    if ends_early(layout):
        said.append(f"Saw the blank's body end off square at x {say(layout.heel.x_end)}: the rod stands out beyond it.")
    said += [
        f"The {plain(step)} is cut {say(thick)} too deep: lay a shim of that thickness under the rod."
        for step, thick in shims(layout)
    ]
    if rod.curve is not None:
        told = [word for word, there in (("washer", rod.washer), ("anchor", rod.segments)) if there]
        parts = f" with its {listed(told)}" if told else ""
        bears = ", the washer bears flat on the end of its pocket" if rod.washer is not None else ""
        said.append(
            f"Try the rod{parts}: it lies on the curved floor along its whole length{bears}, and the adjuster turns "
            "free."
        )
        return said
    lies = f"its top {say(rod.below)} below the glue plane and never above it"
    if rod.below < 0:
        lies = f"but its top stands {say(-rod.below)} above the glue plane: cut the run that much deeper first"
    said.append(
        f"{way_up(layout, rod)} Try the rod: it goes in by hand pressure, lies on the floor along its whole length, "
        f"{lies}; the adjuster turns free over its whole travel."
    )
    return said


def rout_slot(layout: Layout) -> Work | None:
    """Routing the access slot; None without one."""
    names = _cuts(layout, for_key=True)
    if not names:
        return None
    feed, guide = along_fence(layout), along_edge(layout)
    out = "Take the rods out." if layout.paired else "Take the rod out."
    says = (
        f"{out} The blank lies as before, on the same strips. Feed along the fence {from_to(layout, feed)}, the fence "
        f"on your {feed.hand}; with an edge guide {from_to(layout, guide)}, the guide on your {guide.hand}."
    )
    if not layout.head.is_none and any(leaves_wood(layout, layout.step(name)) for name in names):
        on, what = (
            ("If the side profile is sawn already, the cut", "scrap") if layout.scarf is None else ("The cut", "wedge")
        )
        says += f" {on} runs on into the {what} on the head's face: clamp it tight against the wood."
    pared = any(s.cutting.way == IN_STEPS for s in router_settings(layout) if s.step.name in names)
    chisel = (cautions.CHISEL,) if pared else ()
    return Work(
        f"Rout the access slot{'s' if layout.paired else ''}", (says,), (*_routing_cautions(layout), *chisel), names
    )


def try_key(layout: Layout) -> Work | None:
    """Trying the key before the rod is laid; None where no key is stated."""
    key, rod = layout.key, layout.rod
    if key is None or rod is None:
        return None
    turn = f"{key.turn:g} deg"
    if key.kind == "bar":
        how = f"Put the key into a hole of the wheel, turn the wheel by {turn} to the next hole, and take it out."
    else:
        how = f"Bring the key in, turn it by {turn} from one flat to the next, take it out and bring it in again."
    at, touched = ("the nut and the fretboard", "neither wood nor nut nor fretboard")
    if layout.clamp is not None:
        at, touched = ("the nut, the clamp and the fretboard", "neither wood nor nut nor clamp nor fretboard")
    if rod.at_heel:
        at, touched = "the fretboard", "neither wood nor fretboard"
    hangs = " Its other arm hangs down." if key.hangs else ""
    laid = "the rod is laid for good, put it"
    if layout.paired:
        laid, how = "the rods are laid for good, put them", f"{how} Do so at both rods, one after the other."
    return Work(
        "Try the key",
        (
            f"Before {laid} in loosely. Hold {at} in place, or a strip as thick as the "
            f"fretboard, {with_unit(layout.fretboard.thickness, layout.design.design.units)}. {how}{hangs} "
            "Never force it.",
        ),
        checks=(f"the key turns and comes out, and touches {touched}",),
    )
