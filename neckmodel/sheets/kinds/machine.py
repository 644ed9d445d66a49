"""Contours for machines: the pockets of the channel, and the openings of templates that a router follows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.workshop.router import router_settings
from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets.kinds.contours import Contours
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rectangle
from neckmodel.sheets.marks.display import Mark, Path
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.titles import Titles
from neckmodel.sheets.views.hand import as_built, mirrored
from neckmodel.sheets.views.outlines import template_opening
from neckmodel.sheets.views.plan import blank_reach
from neckmodel.sheets.views.pockets import step_lines
from neckmodel.work.router import open_ends
from neckmodel.work.words import datum_words, floor_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.workshop.router import RouterSetting

BACK = (
    "Depths count from the level back of the shaft: the blank lies face down, and is drawn as seen from its back. The "
    "key's bore is drilled, not routed."
)
TOP = "Depths count from the glue plane (z = 0), which is the upper face{}."
MEETING = (
    "Where a step opens into a deeper one, its line runs on into that one, a little narrower: no edge is drawn twice, "
    "and no ridge stays between the two."
)


def pockets(layout: Layout, titles: Titles) -> Contours:
    """The blank from above, or from the back where its channel is cut from there: one closed line for each step, none
    over another."""
    sketch, (x0, x1), half = Sketch(), blank_reach(layout), layout.blank_half_width
    sketch.add(rectangle(layers.BLANK, (x0, x1), (-half, half)))
    sketch.line(layers.CENTRE, (x0, 0.0), (x1, 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    routed = tuple(step.from_face for step in layout.steps if not step.bored)
    lines = step_lines(routed, {step.name: layers.of_step(step.name) for step in routed})
    sketch.add(*as_seen(layout, [line.path for line in lines]))
    table = [row for row in layout_json(layout)["channel"] if row["from"] != "end"]
    # a step's own numbers are those of the layout's JSON, key by key
    cuts = tuple(
        {"layer": line.path.layer.name, **data, "line_from": line.x_start, "line_to": line.x_end}
        for line, data in zip(lines, table, strict=True)
    )
    unit = titles.unit
    behind = layout.back_strip is not None
    what, depths = ("back, seen from there", BACK) if behind else ("upper face", _top(layout))
    says = [heading(titles, f"pockets in the blank's {what}"), origin(layout, behind), depths, *_depths(layout, unit)]
    if any((line.x_start, line.x_end) != (line.step.x_start, line.step.x_end) for line in lines) or len(lines) > 1:
        says.append(MEETING)
    return Contours(f"{titles.name} pockets", tuple(sketch.marks), tuple(says), cuts)


def templates(layout: Layout, titles: Titles) -> Contours:
    """The openings of templates for a guide bush; none where no bush or no cutter is stated."""
    sketch, half = Sketch(), layout.blank_half_width
    bush = layout.design.workshop.guide_bush
    sketch.line(layers.CENTRE, (blank_reach(layout)[0], 0.0), (blank_reach(layout)[1], 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    says = [heading(titles, "openings of router templates"), origin(layout, layout.back_strip is not None)]
    if bush is None:
        says.append("No guide bush is stated under [workshop]: there are no templates.")
    cuts = []
    for setting in router_settings(layout):
        if bush is None:
            break
        opening = template_opening(layers.of_template(setting.step.name), setting.step, setting.cutter, bush)
        (placed,) = as_seen(layout, [opening])
        sketch.add(placed)
        assert isinstance(placed, Path)
        cuts.append(_template_cut(placed, setting, bush))
        says.append(_template_words(layout, setting, bush, titles.unit))
    if len(cuts) > 1:
        says.append("Openings may overlap: one template for each.")
    return Contours(f"{titles.name} templates", tuple(sketch.marks), tuple(says), tuple(cuts))


def _template_cut(opening: Path, setting: RouterSetting, bush: float) -> dict[str, object]:
    step = setting.step
    xs, ys = zip(*opening.points, strict=True)
    return {
        "layer": opening.layer.name,
        "step": step.name,
        "bush": bush,
        "cutter": setting.cutter,
        "opening": {"x_start": min(xs), "x_end": max(xs), "y_low": min(ys), "y_high": max(ys)},
        "depth_start": step.depth_start,
        "depth_end": step.depth_end,
        "depth_middle": step.depth_middle,
    }


def _template_words(layout: Layout, setting: RouterSetting, bush: float, unit: str) -> str:
    deep = _deep(setting.step, unit)
    cutter, outside = tool_size(setting.cutter, unit), tool_size(bush, unit)
    ends = open_ends(layout, setting)
    leaves = f"; run its {ends} out of the template" if ends else ""
    if setting.sled is not None:
        leaves += "; its floor is not level: see the sled of the routing-template jig"
    return f"{layers.of_template(setting.step.name).name}: cutter {cutter}, bush {outside} outside, cut {deep}{leaves}"


def _top(layout: Layout) -> str:
    return TOP.format("" if layout.head.is_none else " from the head line on toward the body")


def origin(layout: Layout, from_back: bool = False) -> str:
    """Where x and y are 0, in words. from_back: of a drawing that is seen from the neck's back."""
    side = layout.side_up.other if from_back else layout.side_up
    return f"x = 0 is {datum_words(layout)}, y = 0 the centre line, the {side} side up; true size."


def as_seen(layout: Layout, marks: Sequence[Mark]) -> list[Mark]:
    """Marks as the machine sees the blank: from above, or from the back."""
    placed = as_built(layout, marks)
    return placed if layout.back_strip is None else mirrored(placed)


def heading(titles: Titles, what: str) -> str:
    """The line over a drawing: design, what it shows, date, verdict."""
    return f"{titles.name}: {what}; {titles.mark}. {titles.verdict.says}"


def _depths(layout: Layout, unit: str) -> list[str]:
    lines = []
    for step in (step.from_face for step in layout.steps if not step.bored):
        wide = with_unit(step.width, unit)
        reach = f"x {with_unit(step.x_start, unit)} to {with_unit(step.x_end, unit)}"
        lines.append(f"{plain(step.name)}: {_deep(step, unit)}; {wide} wide, {reach}")
    return lines


def _deep(step: Step, unit: str) -> str:
    return f"{floor_words(step, unit)} deep"
