"""place/...: where the rod and the bars lie against the interval in which they may."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.checks.remedies import either, first_good
from neckmodel.checks.verdict import COMMON, SLACK, at_least, down, place, short_by, up
from neckmodel.findings import Finding, Remedy
from neckmodel.layout.fitting import too_long_or_short
from neckmodel.layout.rod import bounds_in_wood
from neckmodel.layout.segments import held_past_joint
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.design import Design
    from neckmodel.layout import Layout
    from neckmodel.layout.rod import Bar, Bound, RodPlace

GEOMETRY = "geometry"
WITHIN = 0.01  # mm, the solid must lie where the layout says


def check_place(bench: Bench) -> list[Finding]:
    rod = bench.layout.rod
    if rod is None:
        return []
    low, high = bench.mesh("rod").bounds
    x0, x1 = float(low[0]), float(high[0])
    if abs(x0 - rod.x_start) > WITHIN or abs(x1 - rod.x_end) > WITHIN:
        says = f"the rod's solid lies from {x0:.3f} to {x1:.3f} mm, not where the layout puts it"
        return [Finding("place/adjuster", "rod", "fail", says, x0, WITHIN, rod.x_start, basis=GEOMETRY)]
    found = [_adjuster(bench, rod), _anchor(bench, rod, x1 - rod.x_end), _span(bench, rod)]
    return [*found, _wheel(bench, rod, x1)] if rod.at_heel and rod.proud > 0 else found


@dataclass(frozen=True)
class _Room:
    """Where a rod or bar may start: in wood and within the key's reach. Its cover is measured by a check of its own."""

    low: Bound
    high: Bound
    x: float

    @property
    def margin(self) -> float:
        """How far x lies inside the interval, negative outside."""
        return min(self.x - self.low.x, self.high.x - self.x)

    @property
    def nearest(self) -> Bound:
        return self.low if self.x - self.low.x < self.high.x - self.x else self.high

    @property
    def short(self) -> float:
        """How much the interval lacks; 0 or less where there is one."""
        return self.low.x - self.high.x


def _room(place: RodPlace | Bar) -> _Room:
    return _Room(*bounds_in_wood(place), place.x_start)


def _says(what: str, room: _Room) -> str:
    if room.short > SLACK:
        wrong = too_long_or_short(room.low, room.high)
        told = f"this {what}, it is {wrong}" if wrong else f"a {what} of any length, {no_less(room.short)} are lacking"
        return f"no place is left for {told}: {_between(room)}"
    where = f"the {what} may start from x {room.low.x:.2f} to {room.high.x:.2f} mm"
    return f"{where}; {room.nearest.reason} {'binds first' if room.margin >= -SLACK else 'is in the way'}"


def _between(room: _Room) -> str:
    return f"{room.low.reason} and {room.high.reason} leave no room between them"


def _adjuster(bench: Bench, rod: RodPlace) -> Finding:
    room = _room(rod)
    worst = room.margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(room.margin, 0.0, worst)
    return Finding(
        "place/adjuster",
        "rod",
        verdict,
        _says("rod", room),
        room.margin,
        SLACK,
        0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (rod.x_adjuster, 0.0, -rod.axis)),
        remedy=_move(bench.design, rod, room) if verdict == "fail" else None,
        more={"x_adjuster": rod.x_adjuster, "x_min": room.low.x, "x_max": room.high.x},
    )


def _rod_placed(layout: Layout) -> bool:
    return layout.rod is not None and _room(layout.rod).margin >= -SLACK


def _move(design: Design, rod: RodPlace, room: _Room) -> Remedy | None:
    """Inside a real interval the rod is moved; where there is none the rod must be shorter or longer, or the wood."""
    remedies = []
    if room.short <= SLACK:
        x = down(room.high.x) if room.x > room.high.x else up(room.low.x)
        moved = Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x})
        if room.high.key == "heel.wood_ends_at" and room.x > room.high.x:
            moved = either(moved, *_longer_wood(design, room))
        remedies = [moved]
    fits = down(rod.length + room.margin)
    shorter = Remedy(f"a rod of at most {fits:.2f} mm", {"rod.length": fits})
    if room.high.key == "heel.wood_ends_at":
        longer = _longer_wood(design, room)
        shorter = either(shorter, *longer)
        remedies += [shorter, *longer]
    remedies.append(shorter)
    if rod.stated and room.short > SLACK:
        best = down(rod.length - room.short)
        auto: dict[str, float | str] = {"rod_place.from_nut": "auto", "rod.length": best}
        other = Remedy(f'rod_place.from_nut = "auto" together with a rod of {best:.2f} mm', auto)
        if first_good(design, [other], _rod_placed):
            remedies = [either(r, other) for r in remedies] + [other]
    long = up(rod.fitting_from)
    text = f"a rod of {long:.2f} to {rod.fitting_to:.2f} mm"
    remedies.append(Remedy(text, {"rod.length": long, "rod_place.from_nut": "auto"}))
    return first_good(design, remedies, _rod_placed)


def _longer_wood(design: Design, room: _Room) -> list[Remedy]:
    """The neck's wood so much longer that the rod may lie where it does; nothing where that is no place for it."""
    back = up(room.high.value - room.margin)
    longer = Remedy(f"heel.wood_ends_at = {back:.2f} mm", {"heel.wood_ends_at": back})
    return [longer] if first_good(design, [longer], _rod_placed) else []


def _anchor(bench: Bench, rod: RodPlace, off: float) -> Finding:
    """off: how far the rod's solid lies from its place, mm."""
    stated = bench.design.rod_place
    measured = off + held_past_joint(bench.design, rod)
    worst = measured - bench.design.workshop.tolerances.measuring
    verdict = at_least(measured, stated.past_joint, worst)
    what = "block" if rod.at_heel else "anchor"
    says = f"the {what}'s {stated.past_joint_of} face lies {measured:.2f} mm past the joint"
    says += f", {short_by(measured, stated.past_joint)}" if verdict == "fail" else ""
    remedy = _reach(bench.design, rod, stated.past_joint - measured) if verdict == "fail" else None
    return Finding(
        "place/anchor",
        "rod",
        verdict,
        says,
        measured,
        SLACK,
        stated.past_joint,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, (rod.x_past_joint + off, 0.0, -rod.axis)),
        remedy=remedy,
    )


def _reach(design: Design, rod: RodPlace, short: float) -> Remedy | None:
    """Farther from the nut where there is room, else a longer rod, if that has a place."""
    x, length = up(rod.x_start + short), up(rod.length + short)
    remedies = [
        Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x}),
        Remedy(f"a rod at least {length:.2f} mm long", {"rod.length": length}),
    ]
    first_from: dict[str, float | str] = {"rod.length": up(rod.fitting_from), "rod_place.from_nut": "auto"}
    remedies.append(Remedy(f"a rod of {up(rod.fitting_from):.2f} to {rod.fitting_to:.2f} mm", first_from))

    def reaches(new: Layout) -> bool:
        held = 0.0 if new.rod is None else held_past_joint(new.design, new.rod)
        return _rod_placed(new) and held >= new.design.rod_place.past_joint - SLACK

    return first_good(design, remedies, reaches)


def _span(bench: Bench, rod: RodPlace) -> Finding:
    measured = rod.x_span - rod.x_start
    what = "the rod begins" if rod.at_heel else "the adjuster's block ends"
    says = (
        f"{what} {measured:.2f} mm before fret 1"
        if measured >= -SLACK
        else f"{what} {-measured:.2f} mm beyond fret 1: the first frets are not straightened"
    )
    return Finding(
        "place/span",
        "rod",
        "pass" if measured >= -SLACK else "warn",
        says,
        measured,
        SLACK,
        0.0,
        basis=COMMON,
        at=place(bench.layout, (rod.x_start if rod.at_heel else rod.x_block, 0.0, 0.0)),
        remedy=None if measured >= -SLACK else _nearer(bench.design, rod),
    )


def _nearer(design: Design, rod: RodPlace) -> Remedy | None:
    x = down(rod.x_span)
    remedy = Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x})
    return first_good(design, [remedy], _rod_placed)


def _wheel(bench: Bench, rod: RodPlace, x_end: float) -> Finding:
    """Whether a wheel that stands above the glue plane lies wholly beyond the fretboard. x_end: the rod solid's."""
    measured = x_end - rod.x_end + rod.x_start - rod.x_wheel
    worst = measured - bench.design.workshop.tolerances.measuring
    verdict, remedy = at_least(measured, 0.0, worst), None
    says = f"the adjuster stands {rod.proud:.2f} mm above the glue plane, "
    says += f"{measured:.2f} mm past the fretboard" if measured >= 0 else f"{-measured:.2f} mm of it in the fretboard"
    if verdict == "fail":
        x = up(rod.x_wheel)
        ends = down(bench.layout.fretboard.x_end + measured)
        remedies = [
            Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x}),
            Remedy(f"a fretboard that ends at {ends:.2f} mm", {"fretboard.ends_at": ends}),
        ]
        remedy = first_good(bench.design, remedies, _wheel_clear)
    return Finding(
        "place/wheel",
        "rod",
        verdict,
        says,
        measured,
        SLACK,
        0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (rod.x_adjuster - (rod.wheel or rod.adjuster_length), 0.0, rod.proud)),
        remedy=remedy,
        more={"above_glue_plane": round(rod.proud, 4)},
    )


def _wheel_clear(layout: Layout) -> bool:
    return layout.rod is not None and layout.rod.x_start >= layout.rod.x_wheel - SLACK and _rod_placed(layout)


def check_bars(bench: Bench) -> list[Finding]:
    return [_bar(bench, bar) for bar in bench.layout.bars]


def _bar(bench: Bench, bar: Bar) -> Finding:
    room = _room(bar)
    worst = room.margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(room.margin, 0.0, worst)
    return Finding(
        f"place/{bar.name}",
        bar.name,
        verdict,
        _says("bar", room),
        room.margin,
        SLACK,
        0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (bar.x_start, bar.y, 0.0)),
        remedy=_move_bars(bench.design, bar, room) if verdict == "fail" else None,
    )


def _move_bars(design: Design, bar: Bar, room: _Room) -> Remedy | None:
    length = bar.x_end - bar.x_start
    x = down(room.high.x) if room.x > room.high.x else up(room.low.x)
    fits = down(length + room.margin)
    # at the gap from the nut, just long enough to reach past the joint
    least = max(bar.lower, key=lambda b: b.key == "bars.from_nut").x
    reach = up(next(b.x for b in bar.lower if b.key == "rod_place.past_joint") + length - least)
    remedies = [
        Remedy(f"start the bars at {x:.2f} mm from the nut", {"bars.from_nut": x}),
        Remedy(f"bars of at most {fits:.2f} mm", {"bars.length": fits}),
        Remedy(f"bars of {reach:.2f} mm, {least:.2f} mm from the nut", {"bars.length": reach, "bars.from_nut": least}),
    ]

    def placed(layout: Layout) -> bool:
        return all(_room(b).margin >= -SLACK for b in layout.bars)

    return first_good(design, remedies, placed)
