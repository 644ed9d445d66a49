"""strength/rod: whether the rod can set the relief. An estimate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.strength.words import rod_words
from neckmodel.checks.verdict import SLACK, place
from neckmodel.findings import PASS, WARN, Finding, limit_finding, yes_no_finding
from neckmodel.strength.estimate import BASIS

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace
    from neckmodel.strength.estimate import Strength


def cannot(check: str, layout: Layout, rod: RodPlace) -> Finding:
    """A warning that the rod takes out no relief where it lies."""
    says = "an estimate: where this rod lies it cannot take out the relief that the strings make"
    middle = (rod.x_block + rod.x_anchor_end) / 2
    at = place(layout, (middle, 0.0, -rod.axis_at(middle)))
    return yes_no_finding(
        check=check,
        part=f"rod{rod.suffix}",
        good=False,
        otherwise=WARN,
        says=says,
        basis=BASIS,
        at=at,
    )


def check_rod(layout: Layout, place_of: RodPlace, strength: Strength) -> Finding:
    """The setting with the least to spare, over the whole range of the estimate and after years, must be within the
    rod's reach; and the ends of a rod of two bars must not dent the wood, even at the largest setting."""
    found, rod = cannot("strength/rod", layout, place_of), strength.rod
    if rod is None:
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
    return limit_finding(
        check="strength/rod",
        part=f"rod{place_of.suffix}",
        verdict=WARN if worst.spare < -SLACK or dents else PASS,
        says=f"an estimate: {rod_words(layout, strength, rod)}",
        measured=round(worst.reach, 4),
        error=round(abs(rod.likely.reach - worst.reach), 4),
        limit=round(abs(worst.need), 4),
        basis=strength.basis,
        at=found.at,
        more=more,
    )
