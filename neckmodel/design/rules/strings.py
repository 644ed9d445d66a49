"""What must hold between strings."""

from __future__ import annotations

import math
from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, at_least, at_most, length, more_than, needs
from neckmodel.design.tables.strings import PULL_FROM

_LEAST_COURSE = 4.0  # mm from course to course; narrower cannot be fretted (common practice, no source)


_LEAST_BETWEEN = 1.0  # mm of clear gap between the strings of neighbouring pairs (common practice, no source)


@needs("strings")
def strings_listed(design: Design) -> Iterator[Broken]:
    """`strings.each` must list every string or none, and each string what its pull follows from in one way only."""
    strings = design.strings
    wanted = strings.count
    if strings.each and len(strings.each) != wanted:
        yield Broken(
            "strings.each",
            f"lists {len(strings.each)} strings",
            f"allowed are {wanted}, every one from the bass side, or none",
        )
    for index, string in enumerate(strings.each):
        first, *more = [name for name in PULL_FROM if getattr(string, name) is not None] or [""]
        for name in more:
            yield Broken(f"strings.each.{index}.{name}", f"is stated beside {first}", attempt="keep one of the two")
    if strings.paired and strings.pair_gap is None:
        yield Broken("strings.pair_gap", "is missing", "paired courses need it")


@needs("strings")
def string_spacing(design: Design) -> Iterator[Broken]:
    """The strings must be as far apart at the bridge as at the nut, leave room for a finger, and slant only with two
    scale lengths, the bass being the longer."""
    strings = design.strings
    if strings.spacing_at_bridge < strings.spacing_at_nut:
        least = at_least(strings.spacing_at_nut)
        yield Broken("strings.spacing_at_bridge", "is less than the spacing at the nut", least)
    least_spacing = _LEAST_COURSE * (strings.courses - 1)
    if strings.spacing_at_nut < least_spacing:
        yield Broken(
            "strings.spacing_at_nut",
            f"is too narrow for {strings.courses} courses",
            f"{at_least(least_spacing)}, {_LEAST_COURSE:g} mm from course to course",
        )
    if strings.paired and strings.pair_gap is not None:
        yield from _pairs(design, strings.pair_gap)
    together = sum(string.diameter for string in strings.each)
    if strings.each and together >= strings.spacing_at_nut:
        yield Broken("strings.each", f"holds strings {length(together)} wide together", at_most(strings.spacing_at_nut))
    if strings.scale.bass < strings.scale.treble:
        attempt = "the bass side is the longer one, left-handed too; are the two swapped?"
        yield Broken("strings.scale.bass", "is shorter than the treble side's", at_least(strings.scale.treble), attempt)
    if strings.scale.square_fret and strings.scale.single:
        yield Broken("strings.scale.square_fret", "has no meaning with one scale length", attempt="leave it out")


def _pairs(design: Design, gap: float) -> Iterator[Broken]:
    """Strings of a pair must not touch, and neighbouring pairs must have room between them."""
    strings = design.strings
    sizes = (
        [string.diameter for string in strings.each] if len(strings.each) == strings.count else [0.0] * strings.count
    )
    thickest = max((one + other) / 2 for one, other in zip(sizes[::2], sizes[1::2], strict=True))
    if gap <= thickest:
        yield Broken("strings.pair_gap", "lets the strings of a pair touch", more_than(thickest))
    between = [(one + other) / 2 for one, other in zip(sizes[1:-1:2], sizes[2::2], strict=True)]
    courses, steps = strings.courses, strings.courses - 1
    if strings.divided_by == "gaps":
        most = (strings.spacing_at_nut - sum(between) - _LEAST_BETWEEN * steps) / courses
    else:
        most = (strings.spacing_at_nut - (max(between) + _LEAST_BETWEEN) * steps) / courses
    if gap > most:
        most = math.floor(100 * most) / 100
        yield Broken("strings.pair_gap", f"leaves {courses} pairs too little room at the nut", at_most(most))
