"""strength/washer: the pressure of washer and anchor on their end grain. An estimate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.washer import less_pressure
from neckmodel.checks.strength.rod import cannot
from neckmodel.checks.verdict import at_least, place
from neckmodel.findings import FAIL, PASS, Finding, limit_finding
from neckmodel.limits import LOAD_DURATION
from neckmodel.strength.bending.stress import spare_of_end_grain
from neckmodel.strength.estimate import LASTING
from neckmodel.strength.materials.woods import SPREAD_COMPRESSION
from neckmodel.strength.rod.bearing import Face

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace
    from neckmodel.strength.estimate import Strength
    from neckmodel.strength.rod.reach import RodEstimate


UNPRESSED = 100.0  # times; a larger factor is printed as this, for a rod that sets nothing presses on nothing


def check_washer(layout: Layout, place_of: RodPlace, strength: Strength) -> Finding:
    """The end grain behind washer and anchor must bear for years the force that sets the wanted relief; the face with
    the least to spare counts."""
    found, rod, wood = cannot("strength/washer", layout, place_of), strength.rod, strength.neck
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
    if verdict != PASS and face.area > 0:
        says += f"; pressed harder the {face.name} sinks into the wood and the rod goes slack"
    if verdict == FAIL and rod.likely.spare < 0:
        says = f"the rod lies too straight in the neck to take out the relief that the strings make; {says}"
    return limit_finding(
        check="strength/washer",
        part=f"rod{place_of.suffix}",
        verdict=verdict,
        says="; ".join([says, *others]),
        measured=None if rod.slack else round(min(spare, UNPRESSED), 4),
        error=None if rod.slack else round(min(spare, UNPRESSED) - min(least, UNPRESSED), 4),
        limit=1.0,
        unit="times",
        worst_case=round(min(least, UNPRESSED), 4),
        basis=f"{strength.basis}; compression along the grain {LASTING}",
        at=place(layout, (face.x, place_of.y, face.z)),
        remedy=less_pressure(layout, strength, rod) if verdict == FAIL else None,
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
