"""The settings of each cut in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.cutters import IN_STEPS, SLED, WAYS, narrower
from neckmodel.layout.sides import Toward
from neckmodel.layout.workshop.feed import along_edge, along_fence, fence_lines, guide_lines
from neckmodel.layout.workshop.router import RouterSetting, level_steps
from neckmodel.layout.workshop.sled import Sled
from neckmodel.lengths import decimal, tool_size, with_unit
from neckmodel.work.measures import step_measures
from neckmodel.work.router import corner_words, from_to, only_plunged, side_end, with_bush
from neckmodel.work.words import floor_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step


OFF = 0.01  # mm; an arc nearer to the floor is not mentioned


SAME = 1e-6  # mm


LEVEL = 0.005  # mm; a rail that rises by less counts as level


def extent(step: Step, unit: str, left: bool = False) -> str:
    """x, width and, off the centre line, y of a step. left: on a left-handed neck."""
    says = f"x {with_unit(step.x_start, unit)} to {with_unit(step.x_end, unit)}, {with_unit(step.width, unit)} wide"
    return says if step.y == 0 else f"{says}, its middle at y {with_unit(-step.y if left else step.y, unit)}"


def floor(step: Step, unit: str) -> str:
    """The depth of a step's floor below the face that it is cut from: the glue plane, or the level back."""
    words, face = floor_words(step.from_face, unit), "level back" if step.behind else "glue plane"
    return f"{words} below the {face}" if step.is_level else words


def setting_rows(layout: Layout, setting: RouterSetting, unit: str) -> list[tuple[str, str]]:
    """(name, words) of every setting of one cut."""
    cutting = setting.cutting
    reach = (
        f"{WAYS[cutting.way]} it needs {with_unit(cutting.reach, unit)} of stick-out, and may stick out "
        f"{with_unit(cutting.stick_out, unit)}"
    )
    rows = [
        ("cutter", f"{tool_size(setting.cutter, unit)} across; {reach}"),
        ("lines", _lines(layout, setting, unit)),
        ("fence", _fence(setting, unit)),
        ("feed along the fence", _feed(layout, setting, unit)),
        ("or an edge guide", _guide(layout, setting, unit)),
        ("stop blocks", _stops(layout, setting, unit)),
        ("passes", _passes(setting, unit)),
    ]
    if setting.sled is not None:
        rows.insert(5, ("sled" if cutting.way == SLED else "slope", _sled(layout, setting, setting.sled, unit)))
    if setting.larger is not None:
        rows.append(("with the guide bush", with_bush(layout, setting, setting.larger, unit)))
    if cutting.corners_at:
        rows.append(("corners to square", corner_words(setting, unit)))
    rows.append(("trial cut", "in scrap of the same wood: measure width and depth before the blank is cut"))
    rows.append(("before you go on", _bounds(layout, setting.step, unit)))
    return rows


def _lines(layout: Layout, setting: RouterSetting, unit: str) -> str:
    cutting, step, feed = setting.cutting, setting.step, along_fence(layout)
    if cutting.lines > 1:
        return (
            f"{cutting.lines} lines: along the fence the {feed.first} side first, the {feed.last} side last; no ridge "
            "left between them"
        )
    if not narrower(cutting, step.width):
        return "one line"
    says = f"one line: it comes out {decimal(cutting.width, unit)} wide, and wider by the cutter's runout; planned "
    return f"{says}{decimal(step.width, unit)}, and at least {decimal(step.narrowest, unit)} will do"


def _fence(setting: RouterSetting, unit: str) -> str:
    """Distances at which the fence stands for each line; or, where the router's base is not stated, at which the
    cutter's middle runs."""
    if setting.base is None:
        middles = _in_turn([with_unit(centre, unit) for centre in sorted(setting.centres, reverse=True)])
        return f"the cutter's middle {middles} inside the reference edge; the fence farther out by your base's size"
    return _in_turn(
        [
            f"{with_unit(-offset, unit)} outside the reference edge, off the blank"
            if offset < 0
            else f"{with_unit(offset, unit)} inside the reference edge, on the blank"
            for offset in fence_lines(setting)
        ]
    )


def _in_turn(settings: list[str]) -> str:
    """Settings of the lines, in the order of their cuts."""
    return ", then ".join(settings)


def _feed(layout: Layout, setting: RouterSetting, unit: str) -> str:
    feed = along_fence(layout)
    if only_plunged(setting):
        return "none: the step is as long as the cutter; plunge, and lift it out again"
    starts_open = feed.begins in setting.open_ends and setting.cutting.way != IN_STEPS
    into = f", in {_beyond(layout, setting, feed.begins, unit)}" if starts_open else ""
    plunge = f"plunge at the {side_end(layout, feed.begins)}{into}"
    return f"{from_to(layout, feed)}, the fence on your {feed.hand}; {plunge}"


def _guide(layout: Layout, setting: RouterSetting, unit: str) -> str:
    """How to set a guide fixed to the router, used in place of the fence."""
    feed, radius = along_edge(layout), setting.cutter / 2
    if setting.cutting.way == SLED:
        return "not here: the sled's rails stand along that edge"
    far = guide_lines(setting)
    middles = _in_turn([with_unit(one, unit) for one in far])
    near = _in_turn([with_unit(one - radius, unit) for one in far])
    order = f", {feed.first} side first" if len(far) > 1 else ""
    says = f"on the reference edge: its face {middles} from the cutter's middle ({near} from its near edge)"
    if only_plunged(setting):
        return f"{says}; plunge, and lift it out again"
    return f"{says}; feed {from_to(layout, feed)}, the guide on your {feed.hand}{order}"


def _bounds(layout: Layout, step: Step, unit: str) -> str:
    rows = [row for row in step_measures(layout, layout.step(step.name)) if row.key.endswith((".width", ".depth"))]
    said = [f"{row.key.rsplit('.', 1)[1]} {decimal(row.low, unit)} to {decimal(row.high, unit)}" for row in rows]
    return f"{', '.join(said)}; write what you find under [measured]"


def _stops(layout: Layout, setting: RouterSetting, unit: str) -> str:
    step, base = setting.step, setting.base
    middles = {Toward.HEAD: (setting.first, step.x_start, -1), Toward.BODY: (setting.last, step.x_end, 1)}

    def at(middle: float, out: int) -> str:
        if base is None:
            return f"the cutter's middle at x {with_unit(middle, unit)}"
        return f"at x {with_unit(middle + out * base, unit)}"

    def side(name: Toward) -> str:
        middle, x, out = middles[name]
        past = f"the cutter's middle goes past x {with_unit(x, unit)}, into {_beyond(layout, setting, name, unit)}"
        if setting.cutting.way == IN_STEPS and (name == Toward.HEAD) is (step.depth_start < step.depth_end):
            told = [
                f"{with_unit(one.depth, unit)} deep {f'none ({past})' if stop is None else at(stop, out)}"
                for one in level_steps(setting)
                for stop in (one.first if name == Toward.HEAD else one.last,)
            ]
            return f"{layout.side(name)} another for each depth: {', '.join(told)}"
        return f"{layout.side(name)} none: {past}" if middle is None else f"{layout.side(name)} {at(middle, out)}"

    ends = (side(Toward.HEAD), side(Toward.BODY))
    count = sum("at x" in end for end in ends)
    if not count:
        return "; ".join(ends)
    if base is not None:
        which = "x is that of the face that the base's edge meets"
    else:
        which = f"{'the block' if count == 1 else 'each block'} farther out by your base's size"
    return f"{'; '.join(ends)}; {which}"


def _beyond(layout: Layout, setting: RouterSetting, end: Toward, unit: str) -> str:
    """What lies beyond an end at which a cut leaves the finished wood."""
    head, spare = layout.head, layout.design.allowance.ends
    in_face = end == Toward.HEAD and setting.step.x_start > head.x_far + SAME
    if in_face and layout.scarf is not None:
        return "the wedge on the head's face"
    if in_face:
        return "wood that is sawn away with the head's face"
    if spare >= setting.cutter / 2:
        return f"the {with_unit(spare, unit)} that the blank is longer there"
    return "a scrap block clamped tight against the blank's end"


def _sled(layout: Layout, setting: RouterSetting, sled: Sled, unit: str) -> str:
    """How to make the rails that lead the router along a floor that is not level; or what to do without them."""
    if setting.cutting.way != SLED:
        return (
            f"{floor_words(setting.step, unit)}: too steep for rails; rout it in level steps that stay above the "
            "slope, and pare down to it with a chisel, to a line at each side"
        )
    fall = with_unit(abs(sled.rise), unit)
    way = side_end(layout, Toward.HEAD if sled.rise > 0 else Toward.BODY)
    slope = f"higher by {fall} at the {way}" if abs(sled.rise) > LEVEL else "level from end to end"
    along = with_unit(sled.length, unit)
    says = f"rails beside the blank, in place of the strips, along the {along} of this step, {slope}"
    if abs(sled.sagitta) > LEVEL:
        low = "lower" if sled.sagitta > 0 else "higher"
        says += f", their middle {low} by the sagitta of {with_unit(abs(sled.sagitta), unit)}: an arc of radius "
        says += with_unit(sled.radius, unit)
        if sled.off >= OFF:
            says += f", up to {with_unit(sled.off, unit)} off the floor"
    return (
        f"{says}; carry them on by the base's radius at either end; set the depth on the sled: "
        f"{floor_words(setting.step, unit)}"
    )


def _passes(setting: RouterSetting, unit: str) -> str:
    cutting = setting.cutting
    depths = [with_unit(cutting.pass_depth * k, unit) for k in range(1, cutting.passes + 1)]
    if cutting.way == IN_STEPS:
        routed = [with_unit(step.depth, unit) for step in level_steps(setting)]
        rest = f"pare the rest down to the slope, {with_unit(setting.step.depth, unit)} where it is deepest"
        return f"steps of {with_unit(cutting.pass_depth, unit)}: set {', '.join(routed)}; {rest}"
    equal = f"{cutting.passes} equal passes of {with_unit(cutting.pass_depth, unit)}: set {', '.join(depths)}"
    says = equal if cutting.passes > 1 else f"one pass of {depths[0]}"
    return says if setting.sled is None else f"{says}, where the floor is deepest"
