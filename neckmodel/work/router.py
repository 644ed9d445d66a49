"""The router in words: its base and bush, the room for a template, and the corners that a cutter leaves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.cutters import LEAST_TEMPLATE
from neckmodel.lengths import mm, tool_size, with_unit
from neckmodel.limits import TEMPLATE_THICKNESS
from neckmodel.units import MM_PER

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.sides import Toward
    from neckmodel.layout.workshop.feed import Feed
    from neckmodel.layout.workshop.router import RouterSetting

SAME = 1e-6  # mm
WORTH_FEEDING = 0.05  # mm of a step longer than its cutter
NOT_LEVEL = (
    "; the floor is not level, so that a flat template alone does not do: the routing-template jig has a sled for it "
    "where one is worth making"
)


def router_words(layout: Layout) -> str:
    """The router as stated; where its base is not stated, what to measure, and how to set fence and stops by it. Empty
    where nothing is routed."""
    unit, shop = layout.design.design.units, layout.design.workshop
    if not layout.steps:
        return ""
    bush = "No guide bush." if shop.guide_bush is None else f"Guide bush {tool_size(shop.guide_bush, unit)} outside."
    if shop.router_base is not None:
        return f"Router base {with_unit(shop.router_base, unit)} from the cutter's middle to its edge. {bush}"
    return (
        "The router's base is not stated: measure from the cutter's middle to the edge of the base that runs along the "
        "fence. Set the fence by that much farther out than the cutter's middle runs, and each stop block by that much "
        f"beyond the place where the cutter's middle stops; or state it as workshop.router_base. {bush}"
    )


def edge_words(layout: Layout) -> str:
    """The place of the fence, and of the centre line measured from it."""
    lies = f"The blank's centre line lies {with_unit(layout.blank_half_width, layout.design.design.units)} from"
    if not layout.steps:
        return f"{lies} its bass-side edge."
    return f"The fence lies along the blank's bass-side edge, always. {lies} that edge."


def with_bush(layout: Layout, setting: RouterSetting, larger: float, unit: str) -> str:
    """The size of a template's opening for a guide bush, the direction of feed, and how thick the template may be."""
    step, room, ends = setting.step, setting.cutting.template_room, open_ends(layout, setting)
    if room is not None and room < LEAST_TEMPLATE - SAME:
        return "this cutter does not reach the floor through a template; work along the fence"
    sizes = [with_unit(size + 2 * larger, unit) for size in (step.x_end - step.x_start, step.width)]
    says = (
        f"template's opening {sizes[0]} x {sizes[1]}: {with_unit(larger, unit)} larger on every side than the "
        f"cut; from x {with_unit(step.x_start - larger, unit)} to {with_unit(step.x_end + larger, unit)}"
    )
    says += f"; leave its {ends} open" if ends else ""
    says += "; plunge line by line" if only_plunged(setting) else "; feed clockwise round the opening, seen from above"
    if room is None:
        return says + NOT_LEVEL
    return f"{says}; the template at most {with_unit(min(room, TEMPLATE_THICKNESS), unit)} thick"


def corner_words(setting: RouterSetting, unit: str) -> str:
    """The corners that a cutter leaves, and how much wood is in them."""
    said = []
    for corner in setting.cutting.corners_at:
        where = f"{_area(corner.area, unit)} in plan at x {with_unit(corner.x, unit)}"
        if corner.deep_from > 0:
            where += f", from {with_unit(corner.deep_from, unit)} deep down to the floor"
        said.append(where)
    return f"{'; '.join(said)}: left for the chisel, as drawn"


def _area(area: float, unit: str) -> str:
    return f"{mm(area / MM_PER['in'] ** 2, 4)} in²" if unit == "in" else f"{mm(area)} mm²"


def only_plunged(setting: RouterSetting) -> bool:
    """Whether a step is no longer than its cutter, so that the cutter is only plunged."""
    length = setting.step.x_end - setting.step.x_start
    return length - setting.cutter < WORTH_FEEDING and not setting.open_ends


def from_to(layout: Layout, feed: Feed) -> str:
    """`from the head toward the body`: the direction of feed."""
    return f"from the {layout.end(feed.begins)} toward the {layout.end(feed.toward)}"


def side_end(layout: Layout, way: Toward) -> str:
    """`head-side end`: the end of a step that lies this way."""
    end = layout.end(way)
    return f"{end}-side end" if end == way.value else f"end on the {layout.side(way)}"


def open_ends(layout: Layout, setting: RouterSetting) -> str:
    """`head-side end`, `head- and body-side ends`: the ends at which the cut leaves the wood; empty where it does
    not."""
    sides = setting.open_ends
    if layout.head.is_none:
        return " and ".join(side_end(layout, way) for way in sides)
    return f"{'- and '.join(sides)}-side {'end' if len(sides) == 1 else 'ends'}" if sides else ""
