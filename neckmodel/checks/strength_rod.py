"""strength/rod: what the rod can do about the relief; strength/washer: what a compression rod presses on. Estimates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies import either, first_good, tried
from neckmodel.checks.rod_words import rod_words
from neckmodel.checks.verdict import SLACK, at_least, down, place, up
from neckmodel.errors import DesignError
from neckmodel.findings import Finding, Remedy
from neckmodel.strength.bearing import Face, bearing_faces
from neckmodel.strength.estimate import BASIS, LASTING, estimate
from neckmodel.strength.stress import LOAD_DURATION, spare_of_end_grain
from neckmodel.strength.woods import SPREAD_COMPRESSION

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.estimate import Strength
    from neckmodel.strength.rod_reach import RodEstimate

LARGEST = 3.0  # times its size, a washer or an anchor is not tried larger
HALVINGS = 12
SLOT = "fretboard.fret_slot.depth"
UNPRESSED = 100.0  # times; more is not told: a rod that sets nothing presses on nothing


def _cannot(check: str, layout: Layout) -> Finding:
    assert layout.rod is not None  # called only with a rod
    says = "an estimate: where this rod lies it cannot take out the relief that the strings make"
    middle = (layout.rod.x_block + layout.rod.x_anchor_end) / 2
    at = place(layout, (middle, 0.0, -layout.rod.axis_at(middle)))
    return Finding(check, "rod", "warn", says, basis=BASIS, at=at)


def check_rod(layout: Layout, strength: Strength) -> Finding:
    """The setting with the least to spare, over the whole range of the estimate and after years, must be in reach; and
    the ends of a rod of two bars must not dent the wood, even at the largest."""
    found, rod = _cannot("strength/rod", layout), strength.rod
    if rod is None or layout.rod is None:
        return found
    worst, three = rod.worst, (rod.least, rod.likely, rod.most)
    dents = rod.across is not None and rod.blocks_high is not None and rod.blocks_high.pressure > rod.across
    more = {
        "turns": round(rod.likely.turns, 3),
        "turns_low": round(min(s.turns for s in three), 3),
        "turns_high": round(max(s.turns for s in three), 3),
        "turns_end": round(rod.likely.turns_end, 3),
        "turns_end_high": round(max(s.turns_end for s in three), 3),
        "force": round(rod.likely.force, 1),
        "force_low": round(min(s.force for s in three), 1),
        "force_high": round(max(s.force for s in three), 1),
        "moment": round(rod.moment, 1),
        "steel_stress": round(rod.steel, 1),
        "reach": round(rod.likely.reach, 4),
        "reach_adding": round(rod.likely.reach, 4) if rod.rod.adds else 0.0,
    }
    for ending, blocks in (("", rod.blocks), ("_high", rod.blocks_high)):
        if blocks is not None:
            more[f"end_force{ending}"] = round(blocks.end_force, 1)
            more[f"pressure{ending}"] = round(blocks.pressure, 2)
            more[f"glue_pull{ending}"] = round(blocks.glue_pull, 2)
    if rod.faces:
        more["push_on_strip"] = round(rod.push_on_strip, 4)
    return Finding(
        "strength/rod",
        "rod",
        "warn" if worst.spare < -SLACK or dents else "pass",
        f"an estimate: {rod_words(layout, strength, rod)}",
        round(worst.reach, 4),
        round(abs(rod.likely.reach - worst.reach), 4),
        round(abs(worst.need), 4),
        basis=strength.basis,
        at=found.at,
        more=more,
    )


def check_washer(layout: Layout, strength: Strength) -> Finding:
    """The end grain behind washer and anchor must bear for years what sets the wanted relief; of the two faces the one
    with the least to spare."""
    found, rod, wood = _cannot("strength/washer", layout), strength.rod, strength.neck
    if rod is None:
        return found
    force, most = rod.likely.force, rod.force_high
    face = max(rod.faces, key=lambda face: face.pressure(force))
    spare = spare_of_end_grain(face.pressure(force), wood.parallel)
    least = spare_of_end_grain(face.pressure(most), wood.parallel * (1 - SPREAD_COMPRESSION))
    bears = wood.parallel * LOAD_DURATION
    told = "presses with up to" if rod.slack else "presses"
    others = [
        f"the {f.name} {told} {f.pressure(most if rod.slack else force):.1f} MPa" for f in rod.faces if f is not face
    ]
    says = f"no wood lies behind the {face.name}: the rod would pull it through its run"
    if face.area > 0:
        says = (
            f"an estimate: {_pressed(rod, face)}; for years {wood.name} bears {bears:.1f} MPa, a pull of "
            f"{bears * face.area:.0f} N"
        )
    verdict = at_least(spare, 1.0, least)
    if verdict != "pass" and face.area > 0:
        says += f"; pressed harder the {face.name} sinks into the wood and the rod goes slack"
    return Finding(
        "strength/washer",
        "rod",
        verdict,
        "; ".join([says, *others]),
        None if rod.slack else round(min(spare, UNPRESSED), 4),
        None if rod.slack else round(min(spare, UNPRESSED) - min(least, UNPRESSED), 4),
        1.0,
        "times",
        worst_case=round(min(least, UNPRESSED), 4),
        basis=f"{strength.basis}; compression along the grain {LASTING}",
        at=place(layout, (face.x, 0.0, face.z)),
        remedy=_larger(layout, rod.faces, force / bears) if verdict == "fail" else None,
        more={
            f"{f.name}_{what}": round(value, 3)
            for f in rod.faces
            if f.area > 0
            for what, value in _numbers(f, force, most)
        },
    )


def _pressed(rod: RodEstimate, face: Face) -> str:
    most = f"{face.pressure(rod.force_high):.1f}"
    if rod.slack:
        return f"the rod is left slack; over wood and years the {face.name} presses its end grain with up to {most} MPa"
    when = "when the rod sets the wanted relief" if rod.likely.spare >= 0 else "with the rod at its end"
    return (
        f"the {face.name} presses its end grain with {face.pressure(rod.likely.force):.1f} MPa {when} "
        f"({face.pressure(rod.least.force):.1f} to {most} MPa over wood and years)"
    )


def _numbers(face: Face, force: float, most: float) -> list[tuple[str, float]]:
    return [("area", face.area), ("pressure", face.pressure(force)), ("pressure_high", face.pressure(most))]


def _larger(layout: Layout, faces: tuple[Face, ...], need: float) -> Remedy | None:
    """Washer and anchor each made as large as it takes for so much wood behind them, mm2; or fret slots shallower by as
    much as it takes, for a fretboard that carries more leaves less to the rod."""
    ways = [way for way in (_wider(layout, faces, need), _shallower(layout)) if way is not None]
    return either(*ways) if ways else None


def _wider(layout: Layout, faces: tuple[Face, ...], need: float) -> Remedy | None:
    sizes = {}
    for face in faces:
        if face.area < need:
            size = _size(layout, face, need)
            if size is None:
                return None
            sizes[face] = size
    across = {"anchor": "wide"}
    said = [f"the {face.name} {size:.2f} mm {across.get(face.name, 'in diameter')}" for face, size in sizes.items()]
    remedy = Remedy(" and ".join(said), {face.key: size for face, size in sizes.items()})
    return first_good(layout.design, [remedy], _bears)


def _shallower(layout: Layout) -> Remedy | None:
    """Fret slots just so much shallower, down to half their depth."""
    slot = layout.design.fretboard.fret_slot
    high, low = slot.depth, slot.depth / 2

    def enough(depth: float) -> bool:
        new = tried(layout.design, {SLOT: depth})
        return new is not None and _bears(new)

    if not enough(low):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if enough(middle) else (low, middle)
    depth = down(low)
    return Remedy(f"fret slots {depth:.2f} mm deep", {SLOT: depth})


def _size(layout: Layout, face: Face, need: float) -> float | None:
    """The least size of a face with so much wood behind it, to 0.01 mm; None where none up to LARGEST will do."""

    def area(size: float) -> float:
        return next(f.area for f in bearing_faces(layout, {face.key: size}) if f.name == face.name)

    low, high = face.size, face.size * LARGEST
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if area(middle) >= need else (middle, high)
    size = up(high)
    return size if area(size) >= need else None


def _bears(layout: Layout) -> bool:
    try:
        strength = estimate(layout)
    except DesignError:  # a reading that the changed neck cannot have given
        return False
    rod = strength.rod
    if rod is None:
        return False
    pressed = max(face.pressure(rod.likely.force) for face in rod.faces)
    return spare_of_end_grain(pressed, strength.neck.parallel) >= 1.0 - SLACK
