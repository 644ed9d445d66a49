"""head/tuner-count and head/break-angle: a tuner for each string, and each string pressed into its slot in the nut."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import any_of, change, first_good
from neckmodel.checks.remedies.slots import lower_rollers
from neckmodel.checks.verdict import COMMON, SLACK, down, place
from neckmodel.design.defaults.defaults import RANGES
from neckmodel.design.defaults.trade import sizes_of
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, limit_finding, range_finding, skipped_finding
from neckmodel.layout.hardware.posts import HeadWay, tuner_of_each
from neckmodel.lengths import listed

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.tuners import TunerPlace

# mm, common practice, no source
LEAST_OVER_FACE = 2.0  # of a string over the head's face under a tree
LEAST_ON_POST = 4.0  # over the head's face, where a string leaves a low post
ROUND_POST = 10.0  # from a string tree to the middle of any tuner
KEYS_WAY = 6.0  # from the line along which a key is put in
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7)  # shares of the way from nut to post at which a tree is tried
AIMED = 0.05  # degrees over the limit


def check_head_strings(bench: Bench) -> list[Finding]:
    """Both findings; none where no tuners are stated, which head/tuners reports."""
    layout = bench.layout
    if not layout.tuners and not layout.rollers:
        return []
    strings, tuners = len(layout.frets.from_nut), len(layout.tuners) + len(layout.rollers)
    says = f"{_many(tuners, 'tuner')} for {_many(strings, 'string')}"
    if strings < len(layout.frets.strings):
        says += " that run on to the head"
    if tuners < strings:
        lack = strings - tuners
        says += f": {lack} string{'s have' if lack > 1 else ' has'} none; list every tuner in head.tuners"
    elif tuners > strings:
        over = tuners - strings
        says += f": {over} hole{'s' if over > 1 else ''} too many would be drilled; take them out of head.tuners"
    verdict = PASS if tuners == strings else FAIL
    count = range_finding(
        check="head/tuner-count",
        part="neck",
        verdict=verdict,
        says=says,
        measured=tuners,
        error=0.0,
        limit=strings,
        held=(strings, strings),
        unit="tuners",
        basis="geometry",
    )
    if tuners != strings:
        says = "head.tuners does not list one tuner for each string, so which string goes to which is not known"
        return [
            count,
            skipped_finding(
                check="head/break-angle",
                part="nut",
                says=says,
                unit="degrees",
                basis=COMMON,
            ),
        ]
    return [count, _break_angle(bench)]


def _many(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _break_angle(bench: Bench) -> Finding:
    layout, limit = bench.layout, bench.design.limits.head_break_angle
    ways = layout.head_ways
    low = [way for way in ways if way.bend < limit - SLACK]
    least = min(ways, key=lambda way: way.bend)
    if low:
        bend = "bends" if len(low) == 1 else "bend"
        says = (
            f"{_strings(low)} {bend} down over the nut by {_degrees(low)} only, on the way to "
            f"{listed(way.tuner for way in low)}: under {limit:g} degrees a string may buzz in the nut or leave it"
        )
    else:
        says = f"the strings bend down over the nut by {_degrees(ways)}"
    idle = [way for way in ways if way.tree_idle]
    if idle:
        says += f"; the tree of {listed(way.tuner for way in idle)} stands higher than its string and does nothing"
    return limit_finding(
        check="head/break-angle",
        part="nut",
        verdict=WARN if low else PASS,
        says=says,
        measured=round(least.bend, 4),
        error=0.0,  # straight lines of the layout, of which nothing is measured
        limit=limit,
        unit="degrees",
        basis=COMMON,
        at=place(layout, least.points[0]),
        remedy=_remedy(bench, low) if low else None,
        more={f"string_{way.string}": round(way.bend, 3) for way in ways},
    )


def _strings(ways: Iterable[HeadWay]) -> str:
    numbers = [str(way.string) for way in ways]
    return f"string{'s' if len(numbers) > 1 else ''} {listed(numbers)}"


def _degrees(ways: Iterable[HeadWay]) -> str:
    """The angles in words, rounded down so that one that misses its limit does not seem to keep it."""
    bends = [math.floor(way.bend * 10 + 1e-6) / 10 for way in ways]
    if f"{min(bends):.1f}" == f"{max(bends):.1f}":
        return f"{bends[0]:.1f} degrees"
    return f"{min(bends):.1f} to {max(bends):.1f} degrees"


def _remedy(bench: Bench, low: list[HeadWay]) -> Remedy | None:
    """String trees, lower posts, or a higher step in the head, where one of them is enough; in a slotted head rollers
    bored deeper."""
    layout, limit = bench.layout, bench.design.limits.head_break_angle
    if layout.slots is not None:
        return lower_rollers(layout, low, limit + AIMED)

    def enough(then: Layout) -> bool:
        return all(way.bend >= limit - SLACK for way in then.head_ways)

    tried = (_trees(layout, low, limit), _lower_posts(layout, low, limit), _deeper_step(layout, low, limit))
    good = [remedy for remedy in tried if remedy is not None and first_good(bench.design, [remedy], enough)]
    return any_of(*good)


def _needed(way: HeadWay, limit: float) -> float:
    """How far a string must fall for each mm along its way."""
    return math.tan(math.radians(limit + AIMED + way.rise))


def _key(layout: Layout, way: HeadWay) -> str:
    return f"head.tuners.{[tuner.name for tuner in layout.tuners].index(way.tuner)}"


def _trees(layout: Layout, low: list[HeadWay], limit: float) -> Remedy | None:
    settings: dict[str, float | str] = {}
    at: dict[tuple[float, float], list[HeadWay]] = {}
    on_keys_way = False
    for way in low:
        found = _tree(layout, way, limit)
        if found is None:
            return None
        along, height, y = found
        settings[f"{_key(layout, way)}.tree.x"] = along
        settings[f"{_key(layout, way)}.tree.height"] = height
        at.setdefault((along, height), []).append(way)
        on_keys_way |= any(key.outward < 0 and abs(y - key.y) < KEYS_WAY for key in layout.keys)
    said = [
        f"{_strings(held)} at x {along:.1f} mm, held no higher than {height:.1f} mm over the face"
        for (along, height), held in at.items()
    ]
    trees = "string trees" if len(low) > 1 else "a string tree"
    says = f"{trees} on the head, x along its face from the head line: {'; '.join(said)}"
    return Remedy(says + ("; screwed clear of the key's way" if on_keys_way else ""), settings)


def _tree(layout: Layout, way: HeadWay, limit: float) -> tuple[float, float, float] | None:
    """(place along the face, height of the string's underside over the face, y) of a tree that bends the string enough,
    mm; None where none does."""
    head, turn = layout.head, math.radians(layout.head.angle)
    (x0, y0, z0), (x1, y1, _) = way.points[0], way.points[-1]
    half = layout.frets.strings[way.string - 1].diameter / 2
    for share in SHARES:
        along = round((x0 + share * (x1 - x0) - head.x_line) / math.cos(turn))
        x, z_face = head.on_face(along)
        part = (x - x0) / (x1 - x0)
        y = y0 + part * (y1 - y0)
        lowest = z0 - _needed(way, limit) * part * math.hypot(x1 - x0, y1 - y0)
        height = math.floor(((lowest - z_face) * math.cos(turn) - half) * 10) / 10
        clear = all(math.dist((x, y), tuner.on_face[:2]) >= ROUND_POST for tuner in layout.tuners)
        if along <= -1 and clear and height >= LEAST_OVER_FACE:
            return float(along), height, y
    return None


def _lower_posts(layout: Layout, low: list[HeadWay], limit: float) -> Remedy | None:
    settings: dict[str, float | str] = {}
    tuners: dict[str, TunerPlace] = {
        way.tuner: tuner
        for way, tuner in zip(layout.head_ways, tuner_of_each(layout.frets.from_nut, layout.tuners), strict=True)
    }
    for way in low:
        tuner, (x0, y0, z0), (x1, y1, z1) = tuners[way.tuner], way.points[0], way.points[-1]
        too_high = z1 - (z0 - _needed(way, limit) * math.hypot(x1 - x0, y1 - y0))
        height = down(tuner.string_height - too_high / tuner.axis[2], 0.1)
        if tuner.tree is not None or height < LEAST_ON_POST:
            return None
        settings[f"{_key(layout, way)}.string_height"] = height
    return change(layout.design, settings)


def _deeper_step(layout: Layout, low: list[HeadWay], limit: float) -> Remedy | None:
    if layout.head.kind != "stepped":
        return None
    lacks = []
    for way in low:
        (x0, y0, z0), (x1, y1, z1) = way.points[:2]
        lacks.append(_needed(way, limit) * math.hypot(x1 - x0, y1 - y0) - (z0 - z1))
    drop = sizes_of("head.drop", layout.design.design.units).up(layout.head.drop + max(lacks))
    return None if drop > RANGES["head.drop"].high else change(layout.design, {"head.drop": drop})
