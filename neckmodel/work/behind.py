"""The order of work on a channel cut from the back: routing it, the key's bore, and the strip that closes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.behind import proud_of_back
from neckmodel.layout.channel.step import EndKind, StepName, plain
from neckmodel.layout.measured.shims import shims
from neckmodel.layout.workshop.feed import along_edge, along_fence
from neckmodel.layout.workshop.router import router_settings
from neckmodel.work import cautions
from neckmodel.work.operation import GLUING, Work, words_of
from neckmodel.work.rod import SLACK, felt_free, way_up
from neckmodel.work.router import from_to

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

STRIP_PROUD = 1.0  # mm of a back strip over the level back, to be planed off; common practice, no source
PROUD = 0.05  # mm by which head or heel may stand over the back without being told


def _cuts(layout: Layout) -> tuple[Step, ...]:
    """The steps in the order in which they are routed, the wider ones first, as for a channel from the front."""
    return tuple(sorted((s for s in layout.steps if s.behind), key=lambda step: -step.width))


def rout_behind(layout: Layout) -> Work | None:
    """Routing the channel from the back; None for one from the front."""
    steps, say = _cuts(layout), words_of(layout)
    if not steps:
        return None
    feed, guide, face = along_fence(layout), along_edge(layout), steps[0].face
    printed = () if layout.design.workshop.guide_bush is None else (cautions.PRINTED,)
    order = "Keep to the order of the cuts below, the wider ones first. " if len(steps) > 1 else ""
    says = [
        "Rout now, before any tapering or carving. Turn the blank over: its upper face lies flat on the bench, and the "
        f"shaft's back, level and {say(face)} from plane z = 0, carries the router. Every depth below counts from "
        f"that back.{_packed(layout)}",
        *_raised(layout, steps),
        "Clamp a straight strip along either side of the blank, level with what carries the router's base: they carry "
        "it too, and the bass-side one carries the fence.",
        f"Along the fence feed {from_to(layout, feed)}, the fence on your {feed.hand}. The "
        "cutter turns clockwise seen from above, so in a full groove the wood pushes the router to your left, against "
        f"the fence. Where a step takes more lines than one, cut the {feed.first} side first.",
        f"With an edge guide it is the other way round: feed {from_to(layout, guide)}, the "
        f"guide on your {guide.hand}, and cut the {guide.first} side first. {order}Any other way the cutter climbs: "
        "never feed it so.",
        "The cut is deep, and its floor leaves little wood over it: set the last pass by a cut in scrap of the same "
        "thickness, measure that cut, and cut each line through all its depths before you move the fence.",
        *_groove(layout),
    ]
    return Work(
        "Rout the channel from the back",
        tuple(says),
        (cautions.ROUTER, cautions.DUST, *printed),
        tuple(step.name for step in steps),
        (f"the back is level and lies {say(face)} from plane z = 0 all along the shaft",),
    )


def _packed(layout: Layout) -> str:
    return "" if layout.head.is_none else " Pack the head from below where its face falls away from the bench."


def _raised(layout: Layout, steps: tuple[Step, ...]) -> list[str]:
    """What carries the router over a head or heel that stands above the level back."""
    base, say = layout.design.workshop.router_base or 0.0, words_of(layout)
    x_from, x_to = min(s.x_start for s in steps) - base, max(s.x_end for s in steps) + base
    proud = proud_of_back(layout.blank_profile, steps[0].face, x_from, x_to)
    if proud < PROUD:
        return []
    reach = "" if layout.design.workshop.router_base is not None else " (reckoned without the base: state router_base)"
    return [
        f"{layout.head.named.capitalize()} or heel stand {say(proud)} above that back within the reach of the router's "
        f"base{reach}. Lay two strips "
        "of that thickness on the back, one at either side of the channel, and let the base run on them; the cutter "
        "then sticks out by that much more, and each depth is set on the strips."
    ]


def _groove(layout: Layout) -> list[str]:
    """The groove of a strip that is wider than the channel."""
    strip, say = layout.back_strip, words_of(layout)
    if strip is None or strip.groove is None:
        return []
    groove = strip.groove
    return [
        f"First the strip's own groove: x {say(groove.x_start)} to {say(groove.x_end)}, {say(groove.width)} wide, "
        f"{say(groove.from_face.depth)} deep from the back, down to the rod's underside."
    ]


def try_behind(layout: Layout) -> Work | None:
    """Squaring the corners, and trying the rod; None for a channel from the front."""
    steps, rod, say = _cuts(layout), layout.rod, words_of(layout)
    if not steps or rod is None:
        return None
    square = any(EndKind.SQUARE in (s.end_start, s.end_end) for s in steps)
    corners = square or any(setting.cutting.corners_at for setting in router_settings(layout))
    says = ["With a chisel, square the corners that are drawn, down to the floor."] if corners else []
    says.append(felt_free(rod))
    says += [
        f"The {plain(step)} is cut {say(thick)} too deep: lay a shim of that thickness between the floor and the rod."
        for step, thick in shims(layout)
    ]
    if rod.curve is not None:
        says.append(
            "Try the rod with what belongs to it: it lies on the curved floor along its whole length, the hump toward "
            "you, and the adjuster turns free. Tightened, this rod presses on the floor, toward the frets."
        )
    else:
        says.append(
            f"{way_up(layout, rod)} The blank lies face down, so what is up on the finished neck now lies down. Try "
            f"the rod: it goes in by hand pressure and lies on the floor, its top {say(rod.below)} below plane z = 0; "
            "the adjuster turns free over its whole travel."
        )
    title = "Square the corners and try the rod" if corners else "Try the rod"
    checks = ("the rod goes in and comes out by hand",)
    return Work(title, tuple(says), (cautions.CHISEL,) if corners else (), checks=checks)


def bore_for_key(layout: Layout) -> Work | None:
    """Drilling the key's bore, before the strip goes in; None where there is none."""
    bore = next((step for step in layout.steps if step.name == StepName.KEY_BORE), None)
    rod, say = layout.rod, words_of(layout)
    if bore is None or rod is None:
        return None
    length = bore.x_end - bore.x_start
    x, out = (bore.x_end, "heel's end") if rod.at_heel else (bore.x_start, _wall(layout))
    down = (bore.depth_at(x) + bore.top_at(x)) / 2
    lean = f", leaning {abs(rod.tilt):.1f} deg as the adjuster does" if abs(rod.tilt) > 0.05 else ""
    return Work(
        "Drill the key's bore",
        (
            f"Take the rod out. From the {out}, at x {say(x)}, mark the bore's middle on the centre line, {say(down)} "
            f"below plane z = 0, and drill {say(bore.width)} wide along the adjuster's axis{lean} into its pocket, "
            f"{say(length)} long. Start with a thin drill, and hold scrap in the pocket, so that the wood does not "
            "break out.",
            f"A plug {say(length)} long and {say(bore.width)} across, pushed in dry, keeps dust out of it later: it "
            "comes out again when the rod is turned.",
        ),
        (cautions.DRILL, cautions.DUST),
        checks=("the key goes in straight through the bore and finds its socket",),
    )


def _wall(layout: Layout) -> str:
    if layout.head.is_none:
        return "neck's end"
    return "step's wall" if layout.head.kind == "stepped" else "head's face"


def glue_back_strip(layout: Layout) -> Work | None:
    """Gluing in the strip behind the rod; None without one."""
    strip, rod, say = layout.back_strip, layout.rod, words_of(layout)
    if strip is None or rod is None:
        return None
    length, width, height = strip.stock
    steps = _cuts(layout)
    plan = "as wide as its groove"
    if strip.groove is None:
        plan = "fitted to the channel" + (", wider where a pocket is" if len({s.width for s in steps}) > 1 else "")
    ends = EndKind.ROUND if any(EndKind.ROUND in (s.end_start, s.end_end) for s in steps) else EndKind.SQUARE
    size = say.sizes((length, width, height + STRIP_PROUD))
    fitted = "step it where a pocket is less deep than the run"
    fitted = "let it follow the rod's curve" if rod.curve is not None else fitted
    lies = ", its hump toward the frets" if rod.curve is not None else ""
    return Work(
        "Glue in the back strip",
        (
            f"Back strip, {strip.wood}, {size}, of which {say(STRIP_PROUD)} are planed off: {plan}, its "
            f"ends {ends}. Its inner side lies on the rod: {fitted}, so that it touches the rod all along and keeps it "
            "from rattling. Its grain runs along.",
            f"{felt_free(rod)} Lay the rod on its floor{lies}, with thin tape over it and its adjuster, and keep glue "
            f"out of the adjuster's pocket. Glue the strip in at its sides only, press it down on the rod and clamp. "
            f"{SLACK} {GLUING}",
            f"Once the glue has set, plane the strip level with the back. Carved, its sides are glued "
            f"{say(strip.cheek)} deep where that is least, at x {say(strip.x_cheek)}.",
        ),
        (cautions.GLUE, cautions.CHISEL, cautions.DUST),
        checks=("the adjuster turns by hand, and the rod does not rattle when the blank is knocked",),
    )
