"""Checks that depend on errors linearly, over many necks: cover, glue surface, the rod's place, the wood at its end,
tuners in the head. By the layout alone, lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.layout.channel.behind import over_channel
from neckmodel.layout.channel.between import neighbours, wood_between
from neckmodel.layout.channel.step import FOR_THE_KEY, StepName
from neckmodel.layout.neck.edge import head_edge
from neckmodel.layout.rod.bars import is_bar
from neckmodel.layout.rod.bounds import aslant, cut_outs
from neckmodel.layout.rod.boxes import held_past_joint
from neckmodel.layout.rod.rod import bounds_in_wood
from neckmodel.layout.workshop.tolerance import sideways_left

if TYPE_CHECKING:
    from neckmodel.design import Tolerances
    from neckmodel.geometry.types import Floats
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.behind import BackStrip
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.rod import RodPlace
    from neckmodel.variants.tolerance.errors import Errors


@dataclass(frozen=True)
class LinearCheck:
    """A check that is a sum of errors: value as designed, and (n,) values, one for each neck. takes: what each
    tolerance takes from it at its worst."""

    check: str
    value: float
    limit: float
    drawn: Floats
    takes: dict[str, float]


def linear_checks(
    layout: Layout, tolerances: Tolerances, errors: dict[str, Errors], necks: int, generator: np.random.Generator
) -> Iterator[LinearCheck]:
    """Every such check of a design. errors: of each step of the channel, by its name, on the same necks."""
    measuring = generator.normal(0.0, 1.0, necks) * (tolerances.measuring / 2)
    if layout.back_strip is None:
        yield from _glue(layout, tolerances, errors)
    else:
        yield from _behind(layout, tolerances, errors, layout.back_strip)
    yield from _along(layout, tolerances, measuring, errors)
    yield from _from_soundhole(layout, tolerances, measuring, errors)
    for step in layout.steps:
        # nothing need cover what the key comes through, nor a channel cut from the back
        if step.name in errors and not step.behind and step.kind not in FOR_THE_KEY:
            yield from _cover(layout, step, tolerances, errors[step.name].sideways, measuring)
    yield from _tuners(layout, tolerances, necks, generator)
    yield from _between(layout, tolerances, errors)


def _between(layout: Layout, tolerances: Tolerances, errors: dict[str, Errors]) -> Iterator[LinearCheck]:
    """The wood between two rods, and between them and bars: each channel may lie off to the other's side."""
    pairs = [pair for pair in neighbours(layout.steps) if all(step.name in errors for step in pair)]
    if not pairs:
        return
    nominal = [wood_between(*pair).wood for pair in pairs]
    drawn = [
        wood + errors[treble.name].sideways - errors[bass.name].sideways
        for wood, (bass, treble) in zip(nominal, pairs, strict=True)
    ]
    limit, takes = layout.design.limits.wall.between, {"sideways": 2 * tolerances.sideways}
    yield LinearCheck("wall/between", min(nominal), limit, np.min(drawn, axis=0), takes)


def _from_soundhole(
    layout: Layout, tolerances: Tolerances, measuring: Floats, errors: dict[str, Errors]
) -> Iterator[LinearCheck]:
    """A key's way from the soundhole: a channel cut too deep lowers its axis, away from the top, into the braces."""
    way, limit = layout.soundhole_way, layout.design.limits.access_brace
    if way is None:
        return
    along, takes = {"measuring": tolerances.measuring}, {"depth": tolerances.depth, "measuring": tolerances.measuring}
    top, under = way.under_top.value, way.under_braces
    for rod in layout.rods:
        run, end = errors.get(f"{StepName.RUN}{rod.suffix}"), rod.suffix
        if run is None:
            continue
        yield LinearCheck(f"access/reach{end}", way.reach, 0.0, way.reach + measuring, along)
        yield LinearCheck(f"access/top{end}", top, 0.0, top + run.depth + measuring, takes)
        if under is not None:
            brace = under.value - run.depth + measuring
            yield LinearCheck(f"access/brace{end}", under.value, limit, brace, takes)


def _behind(
    layout: Layout, tolerances: Tolerances, errors: dict[str, Errors], strip: BackStrip
) -> Iterator[LinearCheck]:
    """The wood over a channel cut from the back and behind the rod in it, straight up and down. Depth and stock of the
    run count for all: a channel cut too deep comes nearer to the frets, one too shallow nearer to the back."""
    if StepName.RUN not in errors:
        return
    run, limits = errors[StepName.RUN], layout.design.limits
    moved = run.depth + run.glue_plane + run.stock
    takes = {name: float(getattr(tolerances, name)) for name in ("depth", "glue_plane", "stock")}
    over, limit = over_channel(layout.steps, layout.fretboard).wall, limits.wall.top
    yield LinearCheck("wall/top", over, limits.wall.run if limit is None else limit, over - moved, takes)
    drawn = strip.over - moved - run.carve
    carved = {**takes, "carve": tolerances.carve}
    yield LinearCheck("cover/back-strip", strip.over, limits.cover_back_strip, drawn, carved)


def _glue(layout: Layout, tolerances: Tolerances, errors: dict[str, Errors]) -> Iterator[LinearCheck]:
    """The glue surface beside the opening at the nut. A channel off to one side takes it from that side."""
    board, thickness = layout.fretboard, layout.design.nut.thickness
    (_, bass), (_, treble) = board.line(0.0, board.slope_start)
    opened = [step for step in layout.steps if step.x_start <= thickness and step.name in errors]
    if not opened:
        return

    def sides(step: Step, off_centre: Floats) -> Floats:
        return np.minimum(step.y + off_centre - bass, treble - step.y - off_centre) - step.width / 2

    none = np.zeros(1)
    drawn = np.min([sides(step, errors[step.name].sideways) for step in opened], axis=0)
    value = min(float(sides(step, none)[0]) for step in opened)
    takes = {"sideways": tolerances.sideways}
    yield LinearCheck("glue/nut", value, layout.design.limits.glue_nut, drawn, takes)


def _along(
    layout: Layout, tolerances: Tolerances, measuring: Floats, errors: dict[str, Errors]
) -> Iterator[LinearCheck]:
    """The rod's place and the wood beyond the channel: stations are off by as much as they are measured wrong."""
    heel, takes = layout.heel, {"measuring": tolerances.measuring}
    for rod in layout.rods:
        yield _placed(f"place/adjuster{rod.suffix}", rod, measuring, takes)
        held, limit = held_past_joint(layout.design, rod), layout.design.rod_place.past_joint
        yield LinearCheck(f"place/anchor{rod.suffix}", held, limit, held + measuring, takes)
        if math.isfinite(rod.x_wheel) and rod.proud > 0:
            clear = rod.x_start - rod.x_wheel
            yield LinearCheck(f"place/wheel{rod.suffix}", clear, 0.0, clear + measuring, takes)
    for bar in layout.bars:
        yield _placed(f"place/{bar.name}", bar, measuring, takes)
    ends = [step.x_end for step in layout.closed_ends]
    if ends and errors:
        stock = next(reversed(errors.values())).stock
        left = min([heel.x_end, *(hole.x for hole in cut_outs(layout.design))]) - max(ends)
        limit = layout.design.limits.wall.rod_end
        yield LinearCheck("wall/rod-end", left, limit, left - measuring - stock, {**takes, "stock": tolerances.stock})


def _placed(check: str, placed: RodPlace | Bar, measuring: Floats, takes: dict[str, float]) -> LinearCheck:
    """A rod or bar within its bounds; its cover is a check of its own."""
    low, high = bounds_in_wood(placed)
    before, beyond = placed.x_start - low.x, high.x - placed.x_start
    return LinearCheck(check, min(before, beyond), 0.0, np.minimum(before + measuring, beyond - measuring), takes)


def _cover(
    layout: Layout, step: Step, tolerances: Tolerances, off_centre: Floats, measuring: Floats
) -> Iterator[LinearCheck]:
    """The fretboard over a step: beside it, and beyond its end unless that end belongs to an adjuster at the heel."""
    board = layout.fretboard
    low, high = step.y - step.width / 2, step.y + step.width / 2
    y = 0.0 if is_bar(step.name) else step.y  # of a bar by its farther edge, either side of the centre line
    half = max(abs(low - y), abs(high - y))
    end = board.x_end - aslant(-board.slope_end, half, y)
    opens = layout.rod is not None and layout.rod.at_heel and not is_bar(step.name)
    if opens and step.x_start >= end:
        return
    beyond = math.inf if opens else end - step.x_end
    beside = math.inf
    drawn = beyond - measuring
    if step.x_start < end:
        first = max(step.x_start, board.x_start + aslant(board.slope_start, half, y))
        edges = [_edges(board, x) for x in (first, min(step.x_end, end))]
        bass, treble = max(edge[0] for edge in edges), min(edge[1] for edge in edges)
        beside = min(low - bass, treble - high)
        drawn = np.minimum(drawn, np.minimum(low + off_centre - bass, treble - high - off_centre))
    takes = {"sideways": tolerances.sideways} if beside <= beyond else {"measuring": tolerances.measuring}
    yield LinearCheck(f"cover/{step.name}", min(beside, beyond), layout.design.limits.cover_run, drawn, takes)


def _edges(board: Fretboard, x: float) -> tuple[float, float]:
    """(y of the bass edge, of the treble edge) of a fretboard at x; a slanted end cuts off a corner."""
    low, high = board.bass(x), board.treble(x)
    for slope, off in ((board.slope_start, x - board.x_start), (-board.slope_end, board.x_end - x)):
        if slope > 0:
            high = min(high, off / slope)
        elif slope < 0:
            low = max(low, off / slope)
    return low, high


def _tuners(
    layout: Layout, tolerances: Tolerances, necks: int, generator: np.random.Generator
) -> Iterator[LinearCheck]:
    """Wood between each tuner's hole and the head's outline; every hole is marked out by itself."""
    tuners = layout.design.head.posts
    if not tuners:
        return
    edge = head_edge(layout.outside)
    rims = [edge.hole_rim(tuner.x, tuner.y) - tuner.hole / 2 for tuner in tuners]
    drawn = np.full(necks, np.inf)
    off_centre = [sideways_left(tolerances, layout, f"head.tuners[{k}]") for k in range(len(rims))]
    for rim, sideways in zip(rims, off_centre, strict=True):
        sigma = math.hypot(sideways, tolerances.measuring) / 2
        drawn = np.minimum(drawn, rim + generator.normal(0.0, 1.0, necks) * sigma)
    takes = {"sideways": off_centre[rims.index(min(rims))], "measuring": tolerances.measuring}
    yield LinearCheck("head/tuners", min(rims), layout.design.limits.wall.tuner, drawn, takes)
