"""For a neck of which something was measured: the keys that can still be changed, each with the least change that makes
a failing check pass.

Found on the layout; like any remedy it is tried on a copy before it is printed. Lengths mm.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, change, graded, layout_with, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.design.values.keys import look_up, split
from neckmodel.layout.channel.walls import limit_of
from neckmodel.layout.wood.blank import shaft_ramps

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.findings import Finding, Remedy
    from neckmodel.layout import Layout

    Spare = Callable[[Layout], float]
    Settings = dict[str, float | str]

STEP = 0.01  # mm; remedies are rounded to it
MOST_WAYS = 6  # of one finding, the smallest ones
HEAD_WOOD = 0.01  # mm more than is lacking, for a size measured on meshes is a lower bound


@dataclass(frozen=True)
class Key:
    """Keys changed together by the same amount, `most` mm at most. way: -1 where less of it helps."""

    keys: tuple[str, ...]
    way: int
    most: float


# part of the blank that is too large: the keys that make it smaller
LOWER = {
    "head": (
        Key(("head.drop",), -1, 12.0),
        Key(("head.thickness",), -1, 8.0),
        Key(("head.angle",), -1, 4.0),
        Key(("head.length",), -1, 60.0),
        Key(("head.end.thickness",), -1, 8.0),
    ),
    "heel": (Key(("heel.depth",), -1, 12.0),),
    "shaft": (
        Key(("board.allowance.back",), -1, 4.0),
        Key(("neck.thickness.fret_1", "neck.thickness.fret_12"), -1, 4.0),
    ),
    "length": (
        Key(("board.allowance.ends",), -1, 20.0),
        Key(("head.length",), -1, 60.0),
        Key(("head.end.length",), -1, 60.0),
        Key(("heel.wood_ends_at",), -1, 40.0),
    ),
    "width": (
        Key(("board.allowance.sides",), -1, 5.0),
        Key(("head.outline.near", "head.outline.far"), -1, 20.0),
        Key(("head.end.width",), -1, 20.0),
        Key(("heel.width",), -1, 20.0),
    ),
}
WALL = (
    Key(("fretboard.thickness",), -1, 3.0),
    Key(("neck.back.fret_1.fullness", "neck.back.fret_12.fullness"), 1, 1.5),
)
MARGINS = Key(("fretboard.edge_margin.nut", "fretboard.edge_margin.last_fret"), 1, 6.0)
WIDTHS = Key(("fretboard.width.nut", "fretboard.width.end"), 1, 12.0)
HEAD_WIDTH = Key(("head.outline.near", "head.outline.far"), 1, 20.0)


def open_ways(finding: Finding, layout: Layout) -> list[Remedy]:
    """Changes of one key each (of several where no single one is enough) that the layout allows, the smallest first."""
    family, _, topic = finding.check.partition("/")
    if finding.check == "stock/size":
        return _smaller_blank(layout)
    if finding.measured is None or finding.limit is None:
        return []
    lack, loss = finding.limit - finding.measured, finding.measured - (finding.worst_case or finding.measured)
    if family == "wall" and finding.at is not None and 0 <= finding.at.x <= layout.heel.x_joint:
        return _more_wood(finding.measured, loss, layout, topic)
    if finding.check == "glue/nut" or (family == "cover" and "beside" in finding.says):
        key = MARGINS if layout.design.fretboard.width is None else WIDTHS
        return _by(layout.design, key, lack, loss, 1.0 if key is MARGINS else 2.0)
    if finding.check == "head/tuners":
        return _by(layout.design, HEAD_WIDTH, lack + HEAD_WOOD, loss, 2.0)
    return []


def _smaller_blank(layout: Layout) -> list[Remedy]:
    """A blank that comes out of the board: one key for each part of it that is too large."""
    design = layout.design
    parts = [part for part in LOWER if _blank_spare(part)(layout) < -SLACK]
    choices = [
        [found for key in LOWER[part] if (found := least_change(design, key, _blank_spare(part))) is not None]
        for part in parts
    ]
    if layout.pieces or layout.board is None or not all(choices):
        return []
    return [change(design, {k: v for r in some for k, v in r.set.items()}) for some in product(*choices)][:MOST_WAYS]


def _blank_spare(part: str) -> Spare:
    """How much more board there is than a part of the blank needs, mm; inf where no board is stated."""

    def spare(layout: Layout) -> float:
        if layout.board is None:
            return math.inf
        length, width, thickness = layout.board
        xs = [x for x, _ in layout.blank_profile]
        deep = {
            "head": -layout.head.lowest,
            "heel": -min(z for x, z in layout.blank_profile if x >= layout.heel.x_swell),
            "shaft": -min(z for _, z in shaft_ramps(layout.outside, layout.design.allowance.back)),
        }
        if part in deep:
            return thickness - deep[part]
        return length - (max(xs) - min(xs)) if part == "length" else width - 2 * layout.blank_half_width

    return spare


def _more_wood(measured: float, loss: float, layout: Layout, step: str) -> list[Remedy]:
    """Changes that leave more wood round a step on the shaft without a thicker neck."""
    limit, walls = limit_of(layout.design.limits, step), [wall.wall for wall in layout.walls if wall.step == step]
    if not walls:
        return []
    reads_less = max(walls[0] - measured, 0.0)  # how much less the solid reads than the section

    def spare(new: Layout) -> float:
        return min((w.wall for w in new.walls if w.step == step), default=0.0) - limit - reads_less

    found = (least_change(layout.design, key, spare, loss) for key in WALL)
    return [remedy for remedy in found if remedy is not None]


def _by(design: Design, key: Key, lack: float, loss: float, times: float) -> list[Remedy]:
    """A key changed by what is lacking, or by that many times as much."""

    def by(aim: Aim) -> Remedy | None:
        amount = times * (lack + aim.spare)
        return None if amount > key.most else possible(design, _changed(design, key, amount, aim))

    found = graded(design, by, loss)
    return [] if found is None else [found]


def least_change(design: Design, key: Key, spare: Spare, loss: float = 0.0) -> Remedy | None:
    """The least change of a key with which the check has enough, worst case included, in sizes that can be cut; behind
    it finer ones, and ones without the worst case. None where no change up to its most is enough, where the design does
    not state the key, or where it is cut."""

    @cache  # sizes of several grades want the same; each search lays out a dozen necks
    def least(wanted: float) -> float | None:
        return _least(design, key, lambda new: spare(new) - wanted)

    def make(aim: Aim) -> Remedy | None:
        amount = least(aim.spare)
        return None if amount is None else possible(design, _changed(design, key, amount, aim))

    return graded(design, make, loss)


def _least(design: Design, key: Key, spare: Spare) -> float | None:
    """The least change of a key that is enough, mm, in steps; None where none is."""

    def enough(steps: int) -> bool:
        settings = _changed(design, key, steps * STEP, Aim(design.design.units, grade="hair"))
        new = layout_with(design, settings) if settings else None
        return new is not None and spare(new) >= -SLACK

    high = round(key.most / STEP)
    if not enough(high):  # the layout may refuse so large a change; half of it may be enough
        high = next((steps for steps in (high // 2, high // 4) if enough(steps)), 0)
    if not high:
        return None
    return bisect_left(range(high), True, lo=1, key=enough) * STEP


def _changed(design: Design, key: Key, by: float, aim: Aim) -> Settings:
    """The changed settings; none where the design does not state one of the keys."""
    stated, settings = design.model_dump(by_alias=True), {}
    for name in key.keys:
        value = look_up(stated, split(name))
        if not isinstance(value, float):
            return {}
        settings[name] = (aim.down if key.way < 0 else aim.up)(name, value + key.way * by)
    return dict(settings)
