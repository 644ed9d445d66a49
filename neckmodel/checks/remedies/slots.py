"""Remedies for a slotted head: its slots, its bores, the ramps before its slots. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.design import HeadOutline

if TYPE_CHECKING:
    from neckmodel.checks.remedies.remedy import Settings
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.posts import HeadWay
    from neckmodel.layout.hardware.slots import BoreWall

EDGE, WIDTH, FROM = "head.slots.edge", "head.slots.width", "head.slots.from"
LENGTH, ANGLE = "head.slots.ramp.length", "head.slots.ramp.angle"
ANGLES = (15.0, 20.0, 25.0, 30.0, 35.0)  # degrees at which a new ramp is tried; common practice, no source
MOST_STEPS = 60  # mm by which a ramp may grow
MEASURED = 0.02  # mm more than the limit, for a size measured on meshes is known so well
SHEAR = 0.2  # mm by which a cheek may be thinner under the back than on the face
LEAST_WIDTH = 10.0  # mm of slot that a roller and its string need; common practice, no source


def broader_cheek(layout: Layout, limit: float, measured: float, loss: float, *, halves: bool) -> Remedy | None:  # noqa: ARG001
    """Slots farther in from the sides, where the core still keeps its wood; narrower ones besides; or a wider head."""
    design, pair, limits = layout.design, layout.slots, layout.design.limits
    if pair is None:
        return None

    def ways(aim: Aim) -> Remedy | None:
        short = limit + aim.spare - measured + MEASURED
        edge = aim.up(EDGE, pair.edge + short)
        narrower = aim.down(WIDTH, pair.width - (edge - pair.edge))
        return any_of(
            possible(design, {EDGE: edge}, _stout),
            possible(design, {EDGE: edge, WIDTH: narrower}, _stout) if narrower >= LEAST_WIDTH else None,
            _both(layout, edge, aim) if narrower < pair.width - SLACK and pair.core < limits.head_core else None,
            possible(design, {EDGE: edge, **_wider(layout, edge - pair.edge, aim)}, _stout),
        )

    return graded(design, ways, loss)


def _stout(layout: Layout) -> bool:
    pair, limits = layout.slots, layout.design.limits
    return pair is not None and pair.core >= limits.head_core - SLACK and pair.edge >= limits.head_cheek - SLACK


def _both(layout: Layout, edge: float, aim: Aim) -> Remedy | None:
    """Slots this far in from the sides, and so narrow that the core keeps its wood too."""
    design, pair = layout.design, layout.slots
    if pair is None:
        return None
    core = design.limits.head_core + aim.spare + MEASURED
    width = aim.down(WIDTH, pair.half - edge - core / 2)
    return possible(design, {EDGE: edge, WIDTH: width}, _stout) if width >= LEAST_WIDTH else None


def broader_core(layout: Layout, limit: float, measured: float, loss: float, *, halves: bool) -> Remedy | None:
    """Narrower slots, slots nearer to the sides, or a wider head. halves: whether it is the wood beside the access slot
    that lacks, half of what the core would gain."""
    design, pair, limits = layout.design, layout.slots, layout.design.limits
    if pair is None:
        return None

    def ways(aim: Aim) -> Remedy | None:
        short = (limit + aim.spare - measured + MEASURED) / (1.0 if halves else 2.0)
        narrower = aim.down(WIDTH, pair.width - short)
        return any_of(
            possible(design, {WIDTH: narrower}, _stout) if narrower >= LEAST_WIDTH else None,
            possible(design, {EDGE: aim.down(EDGE, pair.edge - short)}, _stout) if pair.edge > short else None,
            possible(design, _wider(layout, short, aim), _stout),
            _both(layout, aim.up(EDGE, limits.head_cheek + aim.spare + SHEAR), aim)
            if pair.edge < limits.head_cheek + SHEAR
            else None,
        )

    return graded(design, ways, loss)


def _wider(layout: Layout, by: float, aim: Aim) -> Settings:
    """A head wider by this much on either side; nothing where its outline is drawn."""
    outline = layout.design.head.outline
    if not isinstance(outline, HeadOutline):
        return {}
    sizes = (("head.outline.near", outline.near), ("head.outline.far", outline.far))
    return {key: aim.up(key, size + 2 * by) for key, size in sizes}


def bored_elsewhere(layout: Layout, walls: Iterable[BoreWall], limit: float, loss: float) -> Remedy | None:
    """Every hole with too little wood moved, or bored less deep into the core, by what it lacks."""
    design, found = layout.design, list(walls)

    def moved(aim: Aim) -> Remedy | None:
        settings: dict[str, float | str] = {}
        for wall in found:
            short = limit + aim.spare - wall.wood + MEASURED
            if short > MEASURED + SLACK:
                settings |= _moved(layout, wall, short, aim)
        return possible(design, settings)

    def thicker(aim: Aim) -> Remedy | None:
        short = max((limit + aim.spare - w.wood + MEASURED for w in found if w.to == "back"), default=0.0)
        others = [w for w in found if w.to != "back" and w.wood < limit + aim.spare - SLACK]
        if short <= MEASURED or others:
            return None
        return possible(design, {"head.thickness": aim.up("head.thickness", layout.head.thickness + short)})

    return graded(design, lambda aim: any_of(moved(aim), thicker(aim)), loss)


def _moved(layout: Layout, wall: BoreWall, short: float, aim: Aim) -> dict[str, float | str]:
    """The settings that give one wall what it lacks."""
    by_name = {roller.name: (k, roller) for k, roller in enumerate(layout.rollers)}
    pair, (k, roller) = layout.slots, by_name[wall.tuner]
    deep, x = f"head.tuners.{k}.below_face", f"head.tuners.{k}.x"
    if wall.to == "face":
        return {deep: aim.up(deep, roller.below + short)}
    if wall.to == "back":
        return {deep: aim.down(deep, roller.below - short)}
    if wall.to == "slot" and pair is not None:
        if pair.near - roller.along < roller.along - pair.far:
            return {x: aim.down(x, roller.along - short)}
        return {x: aim.up(x, roller.along + short)}
    n, other = by_name[wall.to]
    if other.side == roller.side:
        far = k if roller.along < other.along else n
        key = f"head.tuners.{far}.x"
        return {key: aim.down(key, layout.rollers[far].along - short)}
    both = {f"head.tuners.{m}.into_core": one.into_core for m, one in ((k, roller), (n, other))}
    return {key: aim.down(key, deep_ - short / 2) for key, deep_ in both.items()}


def gentler_way(layout: Layout, limit: float, loss: float) -> Remedy | None:
    """A ramp before each slot, a longer or steeper one, or slots that begin nearer to the nut."""
    design, pair = layout.design, layout.slots
    if pair is None:
        return None
    room = math.floor(-pair.near)
    length, angle = pair.ramp or (0.0, 0.0)

    def clears(spare: float, settings: Settings) -> Remedy | None:
        def good(new: Layout) -> bool:
            return min((d.least.room for d in new.descents), default=0.0) >= limit + spare - SLACK

        return possible(design, settings, good)

    def first(spare: float, tries: Iterable[Settings]) -> Remedy | None:
        return next((found for settings in tries if (found := clears(spare, settings)) is not None), None)

    def ways(aim: Aim) -> Remedy | None:
        spare = aim.spare + MEASURED
        if pair.ramp is None:
            lengths = range(4, min(room, MOST_STEPS) + 1, 2)
            ramps = [{LENGTH: float(n), ANGLE: a} for a in ANGLES[1:3] for n in lengths]
        else:
            ramps = [{LENGTH: length + n} for n in range(1, room - math.ceil(length) + 1)]
        steeper = [{ANGLE: a} for a in ANGLES if angle < a] if pair.ramp is not None else []
        nearer = [{FROM: pair.near + n} for n in range(1, room - 1)]
        return any_of(first(spare, ramps), first(spare, steeper), first(spare, nearer))

    return graded(design, ways, loss)


def lower_rollers(layout: Layout, low: Iterable[HeadWay], needed: float) -> Remedy | None:
    """The rollers of strings that bend too little bored deeper. needed: degrees by which each must bend."""
    by_name = {roller.name: (k, roller) for k, roller in enumerate(layout.rollers)}
    turn = math.radians(layout.head.angle)

    def ways(aim: Aim) -> Remedy | None:
        settings: dict[str, float | str] = {}
        for way in low:
            k, roller = by_name[way.tuner]
            (x0, y0, z0), (x1, y1, z1) = way.points[0], way.points[-1]
            fall = math.tan(math.radians(needed + way.rise)) * math.hypot(x1 - x0, y1 - y0)
            key = f"head.tuners.{k}.below_face"
            settings[key] = aim.up(key, roller.below + (fall - (z0 - z1)) / math.cos(turn) + MEASURED)
        return possible(layout.design, settings)

    return graded(layout.design, ways)
