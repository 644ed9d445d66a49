"""What must hold between the values of a design, beyond each value's own bounds.

A rule is a function of the design that yields what is broken; it runs when every section it needs is sound.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from neckmodel.design.facts import split
from neckmodel.design.fields import plain
from neckmodel.design.model import Design
from neckmodel.design.source import Source
from neckmodel.errors import Problem


@dataclass(frozen=True)
class Broken:
    """One broken rule: dotted key, what is wrong, what is allowed, what to try."""

    key: str
    says: str
    allowed: str = ""
    attempt: str = ""


Rule = Callable[[Design], Iterable[Broken]]
_RULES: list[tuple[frozenset[str], Rule]] = []


def _needs(*sections: str) -> Callable[[Rule], Rule]:
    def add(rule: Rule) -> Rule:
        _RULES.append((frozenset(sections), rule))
        return rule

    return add


def broken(design: Design, sound: frozenset[str], source: Source) -> Iterator[Problem]:
    """Every broken rule among the sound sections."""
    for sections, rule in _RULES:
        if sections <= sound:
            for found in rule(design):
                yield source.problem(split(found.key), found.says, found.allowed, found.attempt)


def at_most(limit: float) -> str:
    return f"allowed is at most {plain(round(limit, 4))} mm"


@_needs("strings")
def number_of_strings(design: Design) -> Iterator[Broken]:
    strings = design.strings
    wanted = strings.courses * (2 if strings.paired else 1)
    if strings.each and len(strings.each) != wanted:
        yield Broken(
            "strings.each",
            f"lists {len(strings.each)} strings",
            f"allowed are {wanted}, one for each string from the bass side, or none",
        )
    if strings.pair_gap is not None and not strings.paired:
        yield Broken("strings.pair_gap", "belongs to paired courses", attempt="state paired = true, or leave it out")


@_needs("strings")
def one_mass_a_string(design: Design) -> Iterator[Broken]:
    for index, string in enumerate(design.strings.each):
        if string.material is not None and string.mass_per_length is not None:
            yield Broken(
                f"strings.each.{index}.material", "stands beside mass_per_length", attempt="keep one of the two"
            )


@_needs("strings")
def spacing(design: Design) -> Iterator[Broken]:
    strings = design.strings
    if strings.spacing_at_bridge < strings.spacing_at_nut:
        yield Broken(
            "strings.spacing_at_bridge",
            "is less than the spacing at the nut",
            f"allowed is at least {plain(strings.spacing_at_nut)} mm",
        )
    least = 4.0 * (strings.courses - 1)
    if strings.spacing_at_nut < least:
        yield Broken(
            "strings.spacing_at_nut",
            f"is too narrow for {strings.courses} courses",
            f"allowed is at least {plain(least)} mm, 4 mm from course to course",
        )
    widest = sum(string.diameter for string in strings.each)
    if strings.each and widest > strings.spacing_at_nut:
        yield Broken("strings.each", f"has strings {plain(widest)} mm wide together, wider than spacing_at_nut")


@_needs("strings", "fretboard")
def fretboard_width(design: Design) -> Iterator[Broken]:
    fretboard, strings = design.fretboard, design.strings
    if fretboard.width is not None:
        if fretboard.width.end < fretboard.width.nut:
            yield Broken("fretboard.width.end", "is narrower than at the nut", "the neck widens toward the body")
        for end, strung in (("nut", strings.spacing_at_nut), ("end", strings.spacing_at_nut)):
            if getattr(fretboard.width, end) < strung + 1:
                yield Broken(f"fretboard.width.{end}", "leaves no edge beside the outer strings")
        return
    at_nut = strings.spacing_at_nut + 2 * fretboard.edge_margin.nut
    at_bridge = strings.spacing_at_bridge + 2 * fretboard.edge_margin.last_fret
    for key, width in (("strings.spacing_at_nut", at_nut), ("strings.spacing_at_bridge", (at_nut + 3 * at_bridge) / 4)):
        if not 25 <= width <= 95:
            yield Broken(key, f"makes the fretboard {width:.1f} mm wide", "allowed are widths of 25 to 95 mm")


@_needs("fretboard")
def fret_slots(design: Design) -> Iterator[Broken]:
    fretboard = design.fretboard
    if fretboard.fret_slot.depth >= fretboard.thickness:
        yield Broken(
            "fretboard.fret_slot.depth", "cuts through the fretboard", f"it is {plain(fretboard.thickness)} mm"
        )


@_needs("fretboard", "neck")
def frets_and_joint(design: Design) -> Iterator[Broken]:
    if design.neck.joint_fret > design.fretboard.frets:
        yield Broken(
            "neck.joint_fret",
            f"lies beyond the last of {design.fretboard.frets} frets",
            f"allowed are 8 to {design.fretboard.frets}",
        )


@_needs("fretboard", "neck")
def wood_depth(design: Design) -> Iterator[Broken]:
    """The wood of the neck is its thickness less the fretboard's; under 4 mm of it nothing can be built."""
    for fret in ("fret_1", "fret_12"):
        wood = getattr(design.neck.thickness, fret) - design.fretboard.thickness
        if wood <= 4:
            yield Broken(
                f"neck.thickness.{fret}",
                f"leaves {plain(round(wood, 3))} mm of wood under the fretboard",
                f"allowed is more than {plain(design.fretboard.thickness + 4)} mm",
            )


@_needs("fretboard", "strings")
def fretboard_end(design: Design) -> Iterator[Broken]:
    fretboard, scale = design.fretboard, design.strings.scale
    last = max(scale.bass, scale.treble) * (1 - 2 ** (-fretboard.frets / 12))
    if fretboard.ends_at is not None and fretboard.ends_at < last:
        yield Broken("fretboard.ends_at", f"lies before the last fret at {last:.2f} mm")
    if fretboard.past_last_fret is not None and last + fretboard.past_last_fret > min(scale.bass, scale.treble) - 5:
        yield Broken("fretboard.past_last_fret", "brings the fretboard's end to the bridge")


@_needs("nut", "fretboard")
def nut_height(design: Design) -> Iterator[Broken]:
    if design.nut.height < design.fretboard.thickness and design.nut.seat == "ledge":
        yield Broken(
            "nut.height", "is lower than the fretboard", f"allowed is at least {plain(design.fretboard.thickness)} mm"
        )


@_needs("nut", "head")
def head_line(design: Design) -> Iterator[Broken]:
    if design.head.starts_at > -design.nut.thickness:
        yield Broken(
            "head.starts_at",
            "lies under the nut",
            f"{at_most(-design.nut.thickness)}: the head begins on the head side of the nut",
        )


@_needs("head")
def tuners(design: Design) -> Iterator[Broken]:
    head = design.head
    for index, tuner in enumerate(head.tuners):
        if -tuner.x + tuner.hole / 2 > head.length:
            yield Broken(f"head.tuners.{index}.x", f"lies beyond the head, which is {plain(head.length)} mm long")


@_needs("strings", "heel")
def heel(design: Design) -> Iterator[Broken]:
    ends, scale = design.heel.wood_ends_at, design.strings.scale
    if ends is not None and design.heel.kind != "through" and ends > max(scale.bass, scale.treble):
        yield Broken("heel.wood_ends_at", "lies beyond the bridge", at_most(max(scale.bass, scale.treble)))
    if design.heel.kind == "tenon" and design.heel.tenon is None:
        yield Broken("heel.tenon", "is missing", "a heel with a tenon needs {length, width, depth}")
    if design.heel.kind != "tenon" and design.heel.tenon is not None:
        yield Broken("heel.tenon", f"does not belong to a {design.heel.kind} heel")


@_needs("strings", "fretboard", "neck", "heel")
def wood_beyond_joint(design: Design) -> Iterator[Broken]:
    scale = design.strings.scale
    joint = min(scale.bass, scale.treble) * (1 - 2 ** (-design.neck.joint_fret / 12))
    if design.heel.wood_ends_at is not None and design.heel.wood_ends_at <= joint:
        yield Broken("heel.wood_ends_at", f"lies before the joint at {joint:.2f} mm", "the wood reaches past the joint")
    fret_1 = min(scale.bass, scale.treble) * (1 - 2 ** (-1 / 12))
    if joint - design.heel.swell_from <= fret_1:
        yield Broken("heel.swell_from", "reaches to fret 1", at_most(joint - fret_1))
