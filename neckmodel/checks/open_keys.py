"""Keys whose wood is still there, each by the least change with which a failing check of a measured neck passes.

Looked for on the layout; what is found is tried on a copy like any remedy before it is told. Lengths mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from neckmodel.checks.remedies import tried
from neckmodel.checks.stock import THIN
from neckmodel.checks.verdict import SLACK, down, up
from neckmodel.design.facts import look_up, split
from neckmodel.findings import Remedy
from neckmodel.layout.sawn import shaft_ramps
from neckmodel.layout.walls import limit_of

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

    Spare = Callable[[Layout], float]
    Settings = dict[str, float | str]

STEP = 0.01  # mm; remedies are rounded to it
MOST_WAYS = 6  # of one finding, the smallest ones
HEAD_WOOD = 0.01  # mm more than what is lacking: what is measured on meshes is a lower bound


@dataclass(frozen=True)
class Key:
    """Keys changed together by the same amount, at most `most`. way: -1 where less of it helps. says: in words, with
    their new values."""

    keys: tuple[str, ...]
    way: int
    most: float
    says: str


# what makes the blank smaller, by the part of it that is too large
LOWER = {
    "head": (
        Key(("head.drop",), -1, 12.0, "a step of {:.2f} mm"),
        Key(("head.thickness",), -1, 8.0, "a head {:.2f} mm thick"),
        Key(("head.angle",), -1, 4.0, "a head at {:.2f} degrees"),
        Key(("head.length",), -1, 60.0, "a head {:.2f} mm long"),
    ),
    "heel": (Key(("heel.depth",), -1, 12.0, "a heel {:.2f} mm deep"),),
    "shaft": (
        Key(("board.allowance.back",), -1, 4.0, "{:.2f} mm left on the back for carving"),
        Key(
            ("neck.thickness.fret_1", "neck.thickness.fret_12"),
            -1,
            4.0,
            "a neck {:.2f} mm thick at fret 1 and {:.2f} mm at fret 12",
        ),
    ),
    "length": (
        Key(("board.allowance.ends",), -1, 20.0, "{:.2f} mm left at each end"),
        Key(("head.length",), -1, 60.0, "a head {:.2f} mm long"),
        Key(("heel.wood_ends_at",), -1, 40.0, "heel.wood_ends_at = {:.2f} mm"),
    ),
    "width": (
        Key(("board.allowance.sides",), -1, 5.0, "{:.2f} mm left on each side"),
        Key(
            ("head.outline.near", "head.outline.far"),
            -1,
            20.0,
            "a head {:.2f} mm wide at the head line and {:.2f} mm at its end",
        ),
        Key(("heel.width",), -1, 20.0, "a heel {:.2f} mm wide"),
    ),
}
WALL = (
    Key(("fretboard.thickness",), -1, 3.0, "a fretboard {:.2f} mm thick"),
    Key(
        ("neck.back.fret_1.fullness", "neck.back.fret_12.fullness"),
        1,
        1.5,
        "a fuller back: neck.back.fret_1.fullness = {:.2f} and neck.back.fret_12.fullness = {:.2f}",
    ),
)
MARGINS = Key(
    ("fretboard.edge_margin.nut", "fretboard.edge_margin.last_fret"),
    1,
    6.0,
    "edge margins of {:.2f} mm at the nut and {:.2f} mm at the last fret",
)
WIDTHS = Key(
    ("fretboard.width.nut", "fretboard.width.end"),
    1,
    12.0,
    "a fretboard {:.2f} mm wide at the nut and {:.2f} mm at its end",
)
HEAD_WIDTH = Key(
    ("head.outline.near", "head.outline.far"),
    1,
    20.0,
    "a head {:.2f} mm wide at the head line and {:.2f} mm at its end",
)


def open_ways(finding: Finding, layout: Layout) -> list[Remedy]:
    """Changes of one key each (of several where no single one is enough) that the layout allows, the smallest first."""
    family, _, topic = finding.check.partition("/")
    if finding.check == "stock/size":
        return _smaller_blank(layout)
    if finding.measured is None or finding.limit is None:
        return []
    if family == "wall" and finding.at is not None and 0 <= finding.at.x <= layout.heel.x_joint:
        return _more_wood(finding, layout, topic)
    lack = finding.limit - finding.measured
    if finding.check == "glue/nut" or (family == "cover" and "beside" in finding.says):
        key = MARGINS if layout.design.fretboard.width is None else WIDTHS
        return list(_by(layout.design, key, lack if key is MARGINS else 2 * lack))
    if finding.check == "head/tuners":
        return list(_by(layout.design, HEAD_WIDTH, 2 * (lack + HEAD_WOOD)))
    return []


def _smaller_blank(layout: Layout) -> list[Remedy]:
    """A blank that comes out of the board: every part of it that is too large made smaller by one key each."""
    design = layout.design
    parts = [part for part in LOWER if _blank_spare(part)(layout) < -SLACK]
    choices = [
        [found for key in LOWER[part] if (found := least_change(design, key, _blank_spare(part))) is not None]
        for part in parts
    ]
    if layout.pieces or layout.board is None or not all(choices):
        return []
    whole = (
        Remedy(" and ".join(r.says for r in some), {k: v for r in some for k, v in r.set.items()})
        for some in product(*choices)
    )
    return list(whole)[:MOST_WAYS]


def _blank_spare(part: str) -> Spare:
    """How much more board there is than a part of the blank needs, mm."""

    def spare(layout: Layout) -> float:
        assert layout.board is not None  # asked for only where one is stated
        length, width, thickness = layout.board
        xs = [x for x, _ in layout.blank_profile]
        deep = {
            "head": -layout.head.lowest,
            "heel": -min(z for x, z in layout.blank_profile if x >= layout.heel.x_swell),
            "shaft": -min(z for _, z in shaft_ramps(layout.outside, layout.design.allowance.back)),
        }
        if part in deep:
            return thickness - THIN - deep[part]
        return length - (max(xs) - min(xs)) if part == "length" else width - 2 * layout.blank_half_width

    return spare


def _more_wood(finding: Finding, layout: Layout, step: str) -> list[Remedy]:
    """What leaves more wood round a step on the shaft without a thicker neck."""
    limit, walls = limit_of(layout, step), [wall.wall for wall in layout.walls if wall.step == step]
    if not walls or finding.measured is None:
        return []
    reads_less = max(walls[0] - finding.measured, 0.0)  # the solid, than the section

    def spare(new: Layout) -> float:
        return min((w.wall for w in new.walls if w.step == step), default=0.0) - limit - reads_less

    found = (least_change(layout.design, key, spare) for key in WALL)
    return [remedy for remedy in found if remedy is not None]


def _by(design: Design, key: Key, amount: float) -> Iterator[Remedy]:
    settings = _changed(design, key, up(amount))
    if settings is not None and amount <= key.most:
        yield _told(key, settings)


def least_change(design: Design, key: Key, spare: Spare) -> Remedy | None:
    """The least change of a key with which there is no less than nothing to spare; None where none up to its most will
    do, where the design does not state it, or where it is cut."""

    def settings_at(steps: int) -> Settings | None:
        return _changed(design, key, steps * STEP)

    def enough(steps: int) -> bool:
        settings = settings_at(steps)
        new = None if settings is None else tried(design, settings)
        return new is not None and spare(new) >= -SLACK

    low, high = 0, round(key.most / STEP)
    if not enough(high):  # a change so large may be refused; half of it may be enough
        high = next((steps for steps in (high // 2, high // 4) if enough(steps)), 0)
    if not high:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    settings = settings_at(high)
    return None if settings is None else _told(key, settings)


def _changed(design: Design, key: Key, by: float) -> Settings | None:
    stated, settings = design.model_dump(by_alias=True), {}
    for name in key.keys:
        value = look_up(stated, split(name))
        if not isinstance(value, float):
            return None
        settings[name] = (down if key.way < 0 else up)(value + key.way * by)
    return dict(settings)


def _told(key: Key, settings: Settings) -> Remedy:
    return Remedy(key.says.format(*settings.values()), settings)
