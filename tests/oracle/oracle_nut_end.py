"""The nut end of a neck without a head: the oracle's numbers against the package's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oracle_headless import headless, nut_end_numbers, shares
from oracle_rod import Shop, Tables, rods_of

from neckmodel.layout.workshop.nut_end import nut_end_reach

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

SAME = 1e-6  # mm, of closed forms; inches are read back from 17 digits


def nut_end_differs(tables: Tables, layout: Layout) -> list[str]:
    """The nut end of a neck without a head: its plan, the key's slot through it, and the clamp."""
    head = headless(tables)
    if head is None or not layout.head.is_none:
        return [] if head is None and not layout.head.is_none else ["one has a head, the other none"]
    outside, swell = layout.outside, layout.head.swell
    got = {f"half width at {s:g} of the swell": outside.half_width(-s * swell) for s in shares(tables)}
    got["neck's end"] = layout.head.x_far
    slot = next((step for step in layout.steps if step.name.startswith("access-slot") and step.x_start < 0), None)
    reach = nut_end_reach(layout)
    if slot is not None and layout.rod is not None and layout.rod.kind != "compression":
        got |= {"slot from": slot.x_start, "slot to": slot.x_end, "slot width": slot.width, "slot depth": slot.depth}
    if reach is not None and layout.rod is not None and layout.rod.kind != "compression":
        got["key's length"] = reach.least
    if layout.clamp is not None:
        clamp = layout.clamp
        got |= {"clamp from": clamp.x_start, "clamp to": clamp.x_end, "clamp past the end": clamp.past_end}
    shop = Shop(tables, *next(iter(rods_of(tables)), ()))
    want = nut_end_numbers(shop, 0.0 if layout.rod is None else layout.rod.x_start)
    found = [] if got.keys() == want.keys() else [f"the nut end has {sorted(got)}, the oracle's {sorted(want)}"]
    for name in got.keys() & want.keys():
        if abs(got[name] - want[name]) > SAME:
            found.append(f"{name}: {got[name]:.6f}, the oracle has {want[name]:.6f}")
    return found


def nut_end_found(tables: Tables, told: dict[str, Finding]) -> list[str]:
    """Findings that a neck without a head has or has not."""
    if headless(tables) is None:
        return []
    of_a_head = ("head/tuners", "head/tuner-count", "head/break-angle", "head/step", "head/scarf", "wall/tuner")
    found = [f"{name} of a neck without a head" for name in told if name in of_a_head]
    return found if "head/clamp" in told else [*found, "nothing is said of the clamp"]
