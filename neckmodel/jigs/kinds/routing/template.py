"""Router templates for the channel, one for each step, used with a guide bush (or a bearing as wide as the cutter).

A plate lies on the glue plane, its fences clasp the blank's sides, and pins hold it in wood that is taken off later.
Its opening is larger than the step by the bush's offset. Two stop bars, pegged into the plate, stop the router's base.
A floor that is not level is cut on a sled instead.
"""

from __future__ import annotations

from functools import partial

from neckmodel.geometry.types import Point
from neckmodel.jigs.kinds.routing.bush import checks
from neckmodel.jigs.kinds.routing.opening import (
    APART,
    BAR,
    BAR_BEYOND,
    BAR_HEIGHT,
    FENCE,
    FENCE_DEPTH,
    PEG,
    PIN,
    WINDOW,
    Template,
    peg_places,
    peg_sides,
    templates,
    window_range,
)
from neckmodel.jigs.kinds.routing.rails import is_made, sleds
from neckmodel.jigs.kinds.routing.sled import draft_sled, usage
from neckmodel.jigs.kinds.routing.sweep import sled_checks, too_steep
from neckmodel.jigs.letters import whole_label
from neckmodel.jigs.shaping import box, cylinder, prism
from neckmodel.jigs.split import REACH, WIDEST, Cut, Joint, clearance, joint_places, split
from neckmodel.jigs.types import UPSIDE_DOWN, Bare, Draft, JigError, Label, Whole
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side, Toward
from neckmodel.solids.channel import step_path
from neckmodel.solids.kernel.gate import cut, fuse
from neckmodel.solids.kernel.shapes import upright

# isort: split
import cadquery as cq


def refuse(layout: Layout) -> None:
    """Raises JigError where the design has no channel, where bush, router's base or cutters are not stated or do not
    fit, or where no template and no sled would be of use."""
    shop = layout.design.workshop
    if layout.back_strip is not None:
        says = "its templates lie on the glue plane, and this channel is cut from the back; "
        says += "rout it along fences, by the routing sheet"
        raise JigError(f"routing-template: {says}")
    if not layout.steps:
        raise JigError("routing-template: the design has no channel: it states neither a rod nor bars")
    if shop.guide_bush is None:
        raise JigError("routing-template: no guide bush is stated; set workshop.guide_bush, or work along fences")
    if shop.router_base is None:
        says = "the router's base is not stated; set workshop.router_base, from the cutter's middle to the base's edge"
        raise JigError(f"routing-template: {says}")
    if not shop.cutters:
        raise JigError("routing-template: the rack is empty; state workshop.cutters")
    for cutting in layout.cuttings:
        if cutting.diameter is None:
            raise JigError(f"routing-template: {cutting.step}: {cutting.says}")
        if shop.guide_bush < cutting.diameter - 1e-9:
            raise JigError(
                f"routing-template: {cutting.step}: the guide bush, {shop.guide_bush:.2f} mm outside, is narrower than "
                f"the cutter, {cutting.diameter:.2f} mm; state a wider workshop.guide_bush"
            )
    if not templates(layout) and not any(is_made(plan) for plan in sleds(layout)):
        raise JigError("routing-template: no step has a level or a curved floor, and its cutters reach no steep one")


def draft(layout: Layout) -> Draft:
    """The templates in pieces, their stop bars, and a sled for each floor that is not level."""
    fit = layout.design.workshop.printer.fit_per_side
    pieces: list[Bare] = []
    wholes: list[Whole] = []
    plans = templates(layout)
    for plan in plans:
        whole = _plate(layout, plan)
        joints = _joints(layout, plan)
        run = (plan.opening.x_start, plan.opening.x_end, plan.opening.y)
        cuts = split(whole, joints, fit, f"template {plan.name}", run)
        names = [plan.name if not joints else f"{plan.name}-{one.name}" for one in cuts]
        pieces += [
            Bare(name, f"template of the {plan.name}", one.solid, UPSIDE_DOWN, _label(layout.name, plan, joints, one))
            for name, one in zip(names, cuts, strict=True)
        ]
        if joints:
            wholes.append(Whole(plan.name, whole, tuple(names), clearance(whole, joints, fit, "joints' fit")))
    found = checks(layout, plans, tuple(pieces)) if plans else ()
    stops, curved = _stops(plans) if plans else (), sleds(layout)
    for sled in curved:
        if is_made(sled):
            drawn = draft_sled(layout, sled)
            stops += (*drawn.rails, drawn.carriage)
            wholes += drawn.wholes
            found += sled_checks(layout, sled, drawn)
        else:
            found += (partial(too_steep, sled),)
    remarks = [*(_remarks(plans) if plans else ()), *(said for sled in curved if is_made(sled) for said in usage(sled))]
    return Draft((*pieces, *stops), tuple(wholes), found, tuple(remarks))


def _plate(layout: Layout, plan: Template) -> cq.Solid:
    """The whole template: plate and fences, with its openings cut."""
    x, outer, fit = plan.x_range, plan.half + FENCE, layout.design.workshop.printer.fit_per_side
    body = fuse(
        box(x, (-outer, outer), (0.0, plan.thickness)),
        [box(x, (side * plan.half, side * outer), (-FENCE_DEPTH, plan.thickness / 2)) for side in (-1, 1)],
        f"template {plan.name}",
    )
    low, high = window_range(layout, plan)
    tools = [upright(step_path(plan.opening), -1.0, plan.thickness + 1.0, f"opening {plan.name}")]
    for _, at in plan.windows:
        tip, wing = WINDOW / 2, (high - low) / 3
        outline = [(at, -high), (at + tip, -high + wing), (at + tip, -low - wing), (at, -low), (at - tip, -low - wing)]
        tools.append(prism([*outline, (at - tip, -high + wing)], -1.0, plan.thickness + 1.0, "window"))
    tools += [cylinder((px, py, -1.0), PIN / 2 + fit, plan.thickness + 2.0) for px, py in plan.pins]
    for at in peg_places(plan):
        for y in peg_sides(plan):
            tools.append(_peg(at, y, (-1.0, plan.thickness + 1.0), fit))
    return cut(body, tools, f"template {plan.name}")


def _peg(x: float, y: float, z: Point, grown: float = 0.0) -> cq.Solid:
    reach = PEG / 2 + grown
    return box((x - reach, x + reach), (y - reach, y + reach), z, "peg")


def _joints(layout: Layout, plan: Template) -> tuple[Joint, ...]:
    bed, (x0, x1) = layout.design.workshop.printer.bed, plan.x_range
    avoid = [(at - WINDOW / 2 - APART, at + WINDOW / 2 + APART) for _, at in plan.windows]
    avoid += [(x - PIN / 2 - APART, x + PIN / 2 + APART) for x, _ in plan.pins]
    avoid += [(at - PEG, at + PEG) for at in peg_places(plan)]
    for end in (plan.opening.x_start, plan.opening.x_end):
        avoid.append((end - plan.opening.width / 2, end + plan.opening.width / 2))
    return tuple(Joint(x, key_sides(plan)) for x in joint_places(x0, x1, max(bed[0], bed[1]), avoid))


def key_sides(plan: Template) -> Point:
    """y of the middles of the strips beside the opening, mm; nearer to the opening where a key would else reach into
    the fence by less than prints."""
    low = plan.opening.y - plan.opening.width / 2
    high = plan.opening.y + plan.opening.width / 2
    outer = plan.half + FENCE

    def clear(y: float) -> float:
        reaches = y + WIDEST / 2 - plan.half
        return y - (reaches + APART / 2) if -APART / 2 < reaches < APART else y

    return -clear((outer - low) / 2), clear((high + outer) / 2)


def _label(design: str, plan: Template, joints: tuple[Joint, ...], piece: Cut) -> Label:
    """The label on the face under the router, clear of pins and windows: on the treble side (or a bass rail's own),
    else, where it has no room there, right across the plate before or behind the opening."""
    k, (x0, x1) = piece.number - 1, plan.x_range
    start = joints[k - 1].x + REACH + APART if k > 0 else x0 + BAR + APART
    end = joints[k].x - APART if k < len(joints) else x1 - BAR - APART
    treble, outer = piece.side != Side.BASS, plan.half + FENCE - APART / 2
    inner = plan.opening.width / 2 + (plan.opening.y if treble else -plan.opening.y) + APART / 2
    pins, windows = [(x, PIN / 2) for x, _ in plan.pins], [(x, WINDOW / 2) for _, x in plan.windows]
    strip = _longest_free(start, end, pins if treble else pins + windows)
    rooms = [(strip, (inner, outer) if treble else (-outer, -inner))]
    for a, b in ((start, plan.opening.x_start - APART), (plan.opening.x_end + APART, end)):
        if b > a and not piece.side:
            rooms.append((_longest_free(max(a, start), min(b, end), pins + windows), (-outer, outer)))
    words = (plan.name, f"{piece.number}/{len(joints) + 1}", Side.TREBLE if treble else Side.BASS, "up")
    labels = [_room(plan, words, x, y) for x, y in rooms]
    whole = (one for one in labels if whole_label((design, "routing-template", *words), one.width, one.height))
    return next(whole, labels[0])


def _room(plan: Template, words: tuple[str, ...], x: Point, y: Point) -> Label:
    middle = ((x[0] + x[1]) / 2, (y[0] + y[1]) / 2, plan.thickness)
    return Label(words, middle, (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), x[1] - x[0], y[1] - y[0])


def _longest_free(start: float, end: float, taken: list[Point]) -> Point:
    """The longest stretch between two x that keeps APART from all those taken: (middle, half length), mm."""
    free = [(start, end)]
    for x, half in taken:
        low, high = x - half - APART, x + half + APART
        free = [part for a, b in free for part in ((a, min(b, low)), (max(a, high), b)) if part[1] > part[0]]
    return max(free, key=lambda part: part[1] - part[0])


def _stops(plans: tuple[Template, ...]) -> tuple[Bare, ...]:
    """The two bars, shown in the first template. Their pegs are no longer than the thinnest plate."""
    plan, deep = plans[0], min(plan.thickness for plan in plans)
    outer = plan.half + FENCE
    stops = []
    for side, at, out in zip(Toward, peg_places(plan), (-1.0, 1.0), strict=True):
        top = (plan.thickness, plan.thickness + BAR_HEIGHT)
        ends = sorted((at - out * BAR / 2, at + out * (BAR / 2 + BAR_BEYOND)))
        bar = box((ends[0], ends[1]), (-outer, outer), top)
        pegs = [_peg(at, y, (plan.thickness - deep, plan.thickness + 1.0)) for y in peg_sides(plan)]
        label = Label(
            ("stop", f"{side} side", "up"),
            (sum(ends) / 2, 0.0, plan.thickness + BAR_HEIGHT),
            (0.0, 1.0, 0.0),
            (-1.0, 0.0, 0.0),
            2 * outer,
            BAR + BAR_BEYOND,
        )
        solid = fuse(bar, pegs, f"stop on the {side} side")
        stops.append(
            Bare(f"stop-{side}", f"stop bar on the {side} side, for every template", solid, UPSIDE_DOWN, label)
        )
    return tuple(stops)


def _remarks(plans: tuple[Template, ...]) -> list[str]:
    bush = plans[0].setting
    said = [
        f"The openings are for a guide bush of {2 * (bush.larger or 0) + bush.cutter:.2f} mm outside; it may stand out "
        f"of the router's base by less than {min(p.thickness for p in plans):.1f} mm.",
        "Cut the steps in the order of their templates, each to its own depth; corners are squared with a chisel.",
    ]
    said += [
        f"{plan.name}: cutter {plan.setting.cutter:.2f} mm, depth {plan.setting.step.depth:.2f} mm below the glue "
        f"plane, {plan.setting.cutting.passes} passes."
        for plan in plans
    ]
    said += [f"{plan.name}: no waste wide enough for pins; clamp the template." for plan in plans if not plan.pins]
    return said
