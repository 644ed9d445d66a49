"""access/reach at the end of a neck without a head: whether the key's outer end can be held."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.each import each_rod
from neckmodel.checks.remedies.remedy import any_of, graded, possible
from neckmodel.checks.verdict import at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, limit_finding
from neckmodel.layout.workshop.nut_end import nut_end_reach

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.layout import Layout


@each_rod
def check_reach(bench: Bench) -> list[Finding]:
    """The finding on the key's length; none where it does not come in at the end of a neck without a head."""
    layout, reach, key = bench.layout, nut_end_reach(bench.layout), bench.layout.key
    if reach is None or key is None:
        return []
    measured, loss = reach.length - reach.least, bench.design.workshop.tolerances.measuring
    worst = measured - loss
    verdict = at_least(measured, 0.0, worst)
    what, have = ("key", "its end is held past")
    if key.kind == "L-key":
        what, have = ("arm in the socket", "its other arm stands clear of")
    counted = ", its handle counted" if key.handle_length and key.kind != "L-key" else ""
    says = f"the {what} is {reach.length:.2f} mm long{counted}"
    if verdict == FAIL:
        says += f", {short_by(measured, 0.0)}: it takes {reach.least:.2f} mm until {have} the {reach.past}"
    else:
        says += f": {measured:.2f} mm more than it takes until {have} the {reach.past}"
        says += f"; measured {loss:.2f} mm wrong, it is too short" if verdict == WARN else ""
    return [
        limit_finding(
            check="access/reach",
            part="adjusting-key",
            verdict=verdict,
            says=says,
            measured=measured,
            error=0.0,  # lengths as stated, of which nothing is measured
            limit=0.0,
            worst_case=worst,
            basis="geometry; common practice, no source",
            at=place(layout, (reach.x_edge, 0.0, -key.axis)),
            remedy=None if verdict == PASS else graded(bench.design, lambda aim: _longer(layout, -measured, aim), loss),
            more={"length": round(reach.length, 4), "least": round(reach.least, 4)},
        )
    ]


def _longer(layout: Layout, short: float, aim: Aim) -> Remedy | None:
    """A longer key, or the rod nearer to the nut."""
    stated, rod = layout.design.adjusting_key, layout.rod
    if stated is None or rod is None:
        return None
    key = "adjusting_key.length"
    now = stated.length
    if stated.kind == "L-key":
        arm = "long_arm" if stated.arm_in_socket == "long" else "short_arm"
        key, now = f"adjusting_key.{arm}", getattr(stated, arm)
    nearer = "rod_place.from_nut"
    ways: list[Remedy | None] = []
    if now is not None:
        ways.append(possible(layout.design, {key: aim.up(key, now + short + aim.spare)}))
    ways.append(possible(layout.design, {nearer: aim.down(nearer, rod.x_adjuster - short - aim.spare)}))
    return any_of(*ways)
