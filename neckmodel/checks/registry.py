"""The checks by name: what each measures, its limit and where that comes from, and the function that does it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from neckmodel.checks.explain.about import About, entry_of
from neckmodel.checks.explain.checks import ABOUT
from neckmodel.checks.explain.jigs import ABOUT_JIGS

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Finding

    Check = Callable[[Bench], list[Finding]]


EXPLAINED = ABOUT + ABOUT_JIGS
"""All that `explain` knows: the checks of a design, and the findings of jigs."""


def functions() -> tuple[Check, ...]:
    """Every check's function, in the order in which they run. Loads the measuring engine."""
    plain, carved = groups()
    return plain + carved


def groups() -> tuple[tuple[Check, ...], tuple[Check, ...]]:
    """The functions of the checks in two groups: those that need no carved neck, the quick ones first; and the
    others."""
    from neckmodel.checks import body, overlap, strings
    from neckmodel.checks.rod import access, bars, behind, between, fit, place, reach, recess, soundhole
    from neckmodel.checks.strength import relief
    from neckmodel.checks.wood import (
        bores,
        cheeks,
        clamp,
        cover,
        dovetail,
        glue,
        head,
        heel,
        holes,
        peg,
        screws,
        section,
        slots,
        step,
        walls,
    )
    from neckmodel.checks.workshop import cutters, scarf, stock

    plain = (
        place.check_place,
        bars.check_bars,
        cutters.check_cutters,
        step.check_step,
        recess.check_recess,
        soundhole.check_way,
        reach.check_reach,
        screws.check_screws,
        relief.check_strength,
        fit.check_fit,
        stock.check_stock,
        slots.check_slots,
        cover.check_cover,
        glue.check_glue,
    )
    carved = (
        walls.check_walls,
        walls.check_rod_end,
        between.check_between,
        behind.check_behind,
        holes.check_hole_walls,
        peg.check_peg,
        access.check_access,
        soundhole.check_turning,
        section.check_section,
        overlap.check_overlaps,
        *(head.check_head, cheeks.check_slots, bores.check_bores, clamp.check_clamp),
        strings.check_head_strings,
        heel.check_heel_end,
        dovetail.check_dovetail,
        scarf.check_scarf,
        body.check_body,
    )
    return plain, carved


def about(check: str) -> About:
    """What `explain` prints about a check, by its name ("wall/run") or its pattern ("wall/<step>"). KeyError where
    there is none."""
    return entry_of(check, EXPLAINED)
