"""The rules between strings, fretboard, neck, heel and head."""

from __future__ import annotations

import math
from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, Needing, at_least, at_most, length, less_than, more_than, needs
from neckmodel.design.tables.head import HeadOutline
from neckmodel.design.tables.strings import PULL_FROM
from neckmodel.design.values.scale import fret_share

_LEAST_COURSE = 4.0  # mm from course to course; narrower cannot be fretted (common practice, no source)
_LEAST_BETWEEN = 1.0  # mm of clear gap between the strings of neighbouring pairs (common practice, no source)
_LEAST_WOOD = 4.0  # mm of wood under the fretboard; less holds nothing


def _fret(design: Design, n: float) -> float:
    """x of a fret on the centre line by equal temperament."""
    return design.strings.spans.centre * fret_share(n)


def _wood(design: Design, x: float) -> float:
    """Depth of the wood at x: the thickness, even through frets 1 and 12, less the fretboard."""
    thickness, x_1, x_12 = design.neck.thickness, _fret(design, 1), _fret(design, 12)
    slope = (thickness.fret_12 - thickness.fret_1) / (x_12 - x_1)
    return thickness.fret_1 + slope * (x - x_1) - design.fretboard.thickness


@needs("strings")
def strings_listed(design: Design) -> Iterator[Broken]:
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
    """Pairs whose strings do not touch, with room between the courses."""
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


@needs("strings", "fretboard")
def fretboard_width(design: Design) -> Iterator[Broken]:
    fretboard, strings = design.fretboard, design.strings
    if fretboard.width is not None:
        if fretboard.width.end < fretboard.width.nut:
            yield Broken("fretboard.width.end", "is less than at the nut", at_least(fretboard.width.nut))
        if fretboard.width.nut < strings.spacing_at_nut + 1:
            least = at_least(strings.spacing_at_nut + 1)
            yield Broken("fretboard.width.nut", "leaves no edge beside the outer strings", least)
        return
    last = fret_share(fretboard.frets)
    at_last = strings.spacing_at_nut + (strings.spacing_at_bridge - strings.spacing_at_nut) * last
    for key, width in (
        ("strings.spacing_at_nut", strings.spacing_at_nut + 2 * fretboard.edge_margin.nut),
        ("strings.spacing_at_bridge", at_last + 2 * fretboard.edge_margin.last_fret),
    ):
        if not 25 <= width <= 95:
            yield Broken(key, f"makes the fretboard {length(width)} wide", "allowed are 25 to 95 mm")


@needs("strings", "fretboard")
def fretboard_length(design: Design) -> Iterator[Broken]:
    fretboard = design.fretboard
    last, bridge = _fret(design, fretboard.frets), design.strings.spans.centre
    if fretboard.ends_at is not None and fretboard.past_last_fret is not None:
        yield Broken("fretboard.ends_at", "is stated beside past_last_fret", attempt="keep one of the two")
    elif fretboard.ends_at is not None and not last < fretboard.ends_at < bridge:
        where = "before the last fret" if fretboard.ends_at <= last else "beyond the bridge"
        yield Broken("fretboard.ends_at", f"lies {where}", f"allowed are {length(last)} to {length(bridge)}")
    elif fretboard.past_last_fret is not None and last + fretboard.past_last_fret >= bridge:
        yield Broken("fretboard.past_last_fret", "takes the fretboard beyond the bridge", at_most(bridge - last))


@needs("fretboard")
def fret_slots(design: Design) -> Iterator[Broken]:
    fretboard = design.fretboard
    if fretboard.fret_slot.depth >= fretboard.thickness:
        thick = length(fretboard.thickness)
        yield Broken("fretboard.fret_slot.depth", f"cuts through the fretboard, which is {thick} thick")


@needs("fretboard", "neck")
def joint_fret(design: Design) -> Iterator[Broken]:
    frets = design.fretboard.frets
    if design.neck.joint_fret > frets:
        yield Broken("neck.joint_fret", f"lies beyond the last of {frets} frets", f"allowed is at most {frets}")


@needs("strings", "fretboard", "neck")
def wood_under_fretboard(design: Design) -> Iterator[Broken]:
    thickness = design.neck.thickness
    least = design.fretboard.thickness + _LEAST_WOOD
    for fret in ("fret_1", "fret_12"):
        if getattr(thickness, fret) <= least:
            wood = length(getattr(thickness, fret) - design.fretboard.thickness)
            says = f"leaves {wood} of wood under the fretboard"
            yield Broken(f"neck.thickness.{fret}", says, more_than(least))
    if thickness.fret_1 > least and _wood(design, 0.0) <= _LEAST_WOOD:
        wood = length(_wood(design, 0.0))
        yield Broken(
            "neck.thickness.fret_12", f"thins the neck to {wood} of wood at the nut", "", "bring it nearer to fret_1"
        )


@needs("nut", "fretboard")
def nut_height(design: Design) -> Iterator[Broken]:
    least = design.fretboard.thickness + (design.nut.seat_depth if design.nut.seat == "groove" else 0.0)
    if design.nut.height < least:
        yield Broken("nut.height", "does not reach the fretboard's top", at_least(least))


@needs("nut", "head")
def head_line(design: Design) -> Iterator[Broken]:
    if design.head.starts_at > -design.nut.thickness:
        limit = at_most(-design.nut.thickness)
        yield Broken("head.starts_at", "lies under the nut", f"{limit}, the nut's far side")


@needs("head")
def tuners(design: Design) -> Iterator[Broken]:
    head = design.head
    for index, tuner in enumerate(head.tuners):
        if isinstance(head.outline, HeadOutline) and tuner.hole / 2 - tuner.x > head.length:
            yield Broken(f"head.tuners.{index}.x", f"lies beyond the head, {length(head.length)} long")
        if tuner.tree is not None and tuner.tree.x <= tuner.x:
            says, at_nut_side = "does not lie between the nut and its tuner", f"allowed is more than {length(tuner.x)}"
            yield Broken(f"head.tuners.{index}.tree.x", says, at_nut_side)


@needs("strings", "fretboard", "neck", "heel")
def heel_wood(design: Design) -> Iterator[Broken]:
    heel = design.heel
    joint, bridge = _fret(design, design.neck.joint_fret), design.strings.spans.centre
    if design.neck.joint_fret > design.fretboard.frets:
        return  # said by another rule; the joint's place means nothing
    if heel.wood_ends_at is not None and heel.wood_ends_at <= joint:
        yield Broken("heel.wood_ends_at", "lies before the joint", more_than(joint))
    if heel.wood_ends_at is not None and heel.kind != "through" and heel.wood_ends_at > bridge:
        yield Broken("heel.wood_ends_at", "lies beyond the bridge", at_most(bridge))
    room = joint - _fret(design, 1)
    if heel.swell_from >= room:
        yield Broken("heel.swell_from", "reaches to fret 1", less_than(room))
    if heel.kind == "tenon" and heel.tenon is None:
        yield Broken("heel.tenon", "is missing", "a heel with a tenon needs {length, width, depth}")
    if heel.depth < _wood(design, joint) and design.measured is None:  # what is cut is told of with the layout
        least = at_least(_wood(design, joint))
        yield Broken("heel.depth", "is less than the wood of the neck at the joint", least)


@needs("body", "heel")
def body(design: Design) -> Iterator[Broken]:
    if design.body.under_pocket > design.body.thickness:
        yield Broken("body.under_pocket", "is more than the body is thick", at_most(design.body.thickness))
    if design.heel.neck_pocket_depth > design.body.thickness:
        yield Broken("heel.neck_pocket_depth", "is more than the body is thick", at_most(design.body.thickness))
    for index, cutout in enumerate(design.body.cutouts):
        if cutout.to <= cutout.from_:
            yield Broken(f"body.cutouts.{index}.to", "does not lie beyond from", more_than(cutout.from_))


RULES: tuple[Needing, ...] = (
    strings_listed,
    string_spacing,
    fretboard_width,
    fretboard_length,
    fret_slots,
    joint_fret,
    wood_under_fretboard,
    nut_height,
    head_line,
    tuners,
    heel_wood,
    body,
)
