"""What `explain` prints about the checks of strength, which are all estimates."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.design.defaults.assumed import PLAIN
from neckmodel.design.defaults.defaults import default
from neckmodel.design.defaults.derived import MOST_RELIEF, MOST_RELIEF_OF_NYLON
from neckmodel.limits import LARGE_BOW, LOAD_DURATION, PROUD

ABOUT_STRENGTH: tuple[About, ...] = (
    About(
        "strength/relief",
        "how far the strings bow the neck while its rod is slack, new and after years: an estimate with its range over "
        "wood and fretboard",
        "a neck with neither rod nor bar fails where the likely relief, new, is over limits.strength_relief, "
        f"{MOST_RELIEF_OF_NYLON:.2f} mm with nylon strings and {MOST_RELIEF:.2f} mm with others, and warns where only "
        "its high end or the years are; a neck with bars and no rod warns above the usual relief, "
        f"{PLAIN.strung.relief_range.high} mm or what is usual for design.instrument; every one warns above "
        f"{LARGE_BOW:g} mm, and fails where the strings pull more than a weak neck bears as a column that is clamped "
        "at the joint and pulled at the nut through the bridge",
        "Wood Handbook, FPL-GTR-282 (2021); double integral of M/EI, the neck bending away from the strings' line; a "
        "column whose load goes through a fixed point: Timoshenko and Gere, Theory of Elastic Stability (1961), "
        "chapter 2 (from memory); limits and usual relief are common practice, no source",
    ),
    About(
        "strength/rod",
        "how far the rod can bend the neck against what the wanted relief needs, over the whole range of the estimate "
        "and after years",
        "warns where it cannot, the rod's end being the proof stress of its thread, or its travel where stated; warns "
        "where the ends of a rod of two bars would dent the wood across its grain at the largest setting",
        "Wood Handbook, FPL-GTR-282 (2021); the rod's bars and threads are assumed: common practice, no source",
    ),
    About(
        "strength/washer",
        "how many times the pressure of a compression rod's washer and anchor the end grain bears for years, when the "
        "rod sets the wanted relief: an estimate",
        "1.0; warns where only weak wood (one standard deviation) or a weak neck after years misses it",
        f"Wood Handbook, FPL-GTR-282 (2021): compression along the grain x {LOAD_DURATION} for load that lasts",
    ),
    About(
        "strength/section",
        "how many times its stress the weakest place of neck, fretboard and head line bears for years: an estimate",
        "1.0; warns where only weak wood (one standard deviation) misses it",
        f"Wood Handbook, FPL-GTR-282 (2021): strengths x {LOAD_DURATION} for load that lasts; "
        "Hankinson's formula for the grain",
    ),
    About(
        "strength/moisture",
        "by how much fret ends cut flush in a damp season stand proud in a dry one, for the fretboard shrinks across "
        "its grain (without frets only how much it shrinks is told); told with it: the neck's width, and the relief "
        "that woods which move unlike may add or take: an "
        "estimate",
        f"warns above {PROUD} mm a side, sawn as fretboard.rings says (quarter unless stated, and then told for flat "
        "too), "
        f"between the air of seasons.dry and of seasons.damp, {default('seasons.dry.humidity'):g} and "
        f"{default('seasons.damp.humidity'):g} % relative humidity at {default('seasons.dry.temperature'):g} °C unless "
        "stated",
        "Wood Handbook, FPL-GTR-282 (2021), equation 4-5 and tables 4-3 and 13-5; limit, sawing and seasons are common "
        "practice, no source",
    ),
)
