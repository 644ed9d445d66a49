"""Remarks on a design: values that are allowed but unusual, and values that have no effect. A remark refuses
nothing."""

from __future__ import annotations

import math
from collections.abc import Callable

from neckmodel.design.defaults.by_instrument import SLOTTED_RANGE, relief_range
from neckmodel.design.defaults.defaults import RANGES
from neckmodel.design.defaults.derived import instrument, nut_width
from neckmodel.design.defaults.instruments import GLUED_IN, USUAL, Range
from neckmodel.design.design import Design
from neckmodel.design.file.renamed import remarks as renamed_remarks
from neckmodel.design.tables.head import HeadOutline
from neckmodel.design.tables.strings import Peg
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Facts, dotted, split
from neckmodel.design.values.kinds import plain

FLATTENED = 0.05  # mm by which a wound string may differ from core and wraps; common practice, no source

# a stated key, why it has no effect, and when
Idle = tuple[str, str, Callable[[Design], bool]]
NO_SLOTS = "a plain fretless fretboard has no fret slots"


def _plain(design: Design) -> bool:
    return not design.fretboard.slotted


_IDLE: tuple[Idle, ...] = (
    ("action.at_nut", "the strings lie on the zero fret", lambda d: d.fretboard.zero_fret),
    ("strings.pair_gap", "the courses are single", lambda d: not d.strings.paired),
    ("fretboard.step_length", "no string starts later than the nut", lambda d: d.strings.later is None),
    ("limits.wall.peg", "no string has a peg in the neck", lambda d: _peg(d) is None),
    ("nut.seat_depth", "the nut stands on a ledge", lambda d: d.nut.seat == "ledge"),
    ("head.drop", "the head is angled", lambda d: d.head.kind != "stepped"),
    ("head.angle", "the head is stepped", lambda d: d.head.kind == "stepped"),
    ("head.scarf", "the head has no scarf", lambda d: d.head.kind != "scarfed"),
    ("limits.wall.tuner", "the neck has no head", lambda d: d.head.kind == "none"),
    ("limits.head_break_angle", "the neck has no head", lambda d: d.head.kind == "none"),
    ("limits.wall.clamp_screw", "no clamp is stated", lambda d: d.head.clamp is None),
    ("heel.tenon", "the heel has no tenon", lambda d: d.heel.kind not in GLUED_IN),
    ("heel.corner_radius", "a heel with a tenon ends square", lambda d: d.heel.kind in GLUED_IN),
    ("head.length", "the drawing says it", lambda d: not isinstance(d.head.outline, HeadOutline)),
    ("heel.neck_pocket_depth", "the neck runs through", lambda d: d.heel.kind == "through"),
    ("heel.wings", "only a neck that runs through has them", lambda d: d.heel.kind != "through"),
    *((f"fretboard.fret_slot.{name}", NO_SLOTS, _plain) for name in ("width", "depth", "floor", "filler")),
    ("fretboard.fret_slot.filler", "the fret slots take frets", lambda d: d.fretboard.fretless is None),
    ("limits.fret_slots_edge", NO_SLOTS, _plain),
    *(
        (key, "the channel is cut from the front", lambda d: not d.channel.from_behind)
        for key in ("limits.wall.top", "limits.cover_back_strip")
    ),
    ("limits.stock_seams", "the board is of one piece", lambda d: d.board is None or not d.board.strips),
    ("limits.strength_relief", "the neck has a rod or a bar", lambda d: d.rod is not None or d.bars is not None),
    *(
        (f"limits.{name}", "the head has no slots", lambda d: d.head.slots is None)
        for name in ("head_cheek", "head_core", "head_bores", "head_ramp")
    ),
    ("adjusting_key", "there is no rod", lambda d: d.rod is None),
    ("adjusting_key.length", "an L-key has two arms", lambda d: _key(d) == "L-key"),
    ("adjusting_key.short_arm", "only an L-key has it", lambda d: _key(d) != "L-key"),
    ("adjusting_key.long_arm", "only an L-key has it", lambda d: _key(d) != "L-key"),
    ("adjusting_key.arm_in_socket", "only an L-key has it", lambda d: _key(d) != "L-key"),
    ("adjusting_key.bend_radius", "only an L-key has it", lambda d: _key(d) != "L-key"),
    ("adjusting_key.grip", "an L-key is held by its hanging arm", lambda d: _enters(d) and _key(d) == "L-key"),
    ("adjusting_key.grip", "no key enters through a soundhole", lambda d: not _enters(d) and not _at_nut_end(d)),
    *(
        (key, "no key enters through a soundhole", lambda d: not _enters(d))
        for key in ("body.top_thickness", "body.head_block_ends_at", "body.braces")
    ),
    ("rod.diameter", "only a compression rod has it", lambda d: _rod(d) != "compression"),
    ("rod.axis_depth", "only a compression rod has it", lambda d: _rod(d) != "compression"),
    ("rod.washer", "only a compression rod has it", lambda d: _rod(d) != "compression"),
    ("rod.cover_strip", "only a compression rod has it", lambda d: _rod(d) != "compression"),
    ("rod.block", "a compression rod has a washer at its adjuster", lambda d: _rod(d) == "compression"),
    ("rod.adjuster.axis_below_top", "a compression rod's axis is rod.axis_depth", lambda d: _rod(d) == "compression"),
    ("rod.segments", "a compression rod is a round bar", lambda d: _rod(d) == "compression"),
    ("rod.adjuster.socket.holes", "only a spoke wheel has it", lambda d: _socket(d) != "spokes"),
)


def _peg(design: Design) -> Peg | None:
    return None if design.strings.later is None else design.strings.later.peg


def _key(design: Design) -> str | None:
    return design.adjusting_key.kind if design.adjusting_key is not None else None


def _enters(design: Design) -> bool:
    return design.adjusting_key is not None and design.adjusting_key.enters == "soundhole" and design.rod is not None


def _at_nut_end(design: Design) -> bool:
    """Whether a key comes in at the end of a neck without a head."""
    return design.head.kind == "none" and design.rod is not None and not design.rod.at_heel


def _rod(design: Design) -> str | None:
    return design.rod.kind if design.rod is not None else None


def _socket(design: Design) -> str | None:
    return design.rod.adjuster.socket.kind if design.rod is not None else None


def remarks(design: Design) -> list[str]:
    """One sentence for each stated value outside its usual range, and one for each that has no effect."""
    facts = Facts(design.source.raw)
    idle = {key: why for key, why, when in _IDLE if design.stated(key) and when(design)}
    found = renamed_remarks(design.source.old_names)
    found += [f"{key} has no effect: {why}" for key, why in idle.items()]
    at_heel = design.rod is not None and design.rod.at_heel
    for key, usual in RANGES.items():
        if key == "rod_place.from_nut" and at_heel:  # the usual range holds for an adjuster at the nut
            continue
        if key not in idle and _is_stated(design, key):
            value = facts.number(key, math.nan)  # nan where a word such as "auto" stands
            range_ = relief_range(facts) if key == "action.wanted_relief" else usual
            range_ = SLOTTED_RANGE if key == "head.thickness" and design.head.slots is not None else range_
            found += [] if math.isnan(value) else _outside(key, value, range_, unit=_unit(key, facts))
    found += _wound(design, facts)
    found += _swapped(design)
    kind = instrument(facts)
    if kind is not None:
        common, of, unit = USUAL[kind], f" for {USUAL[kind].named}", _unit("strings.spacing_at_nut", facts)
        at_bridge = design.strings.spacing_at_bridge
        if _is_stated(design, "strings.spacing_at_nut"):
            found += _outside("the width at the nut", nut_width(facts), common.nut_range, of, unit)
        if _is_stated(design, "strings.spacing_at_bridge"):
            found += _outside("strings.spacing_at_bridge", at_bridge, common.bridge_range, of, unit)
    return found


def _wound(design: Design, facts: Facts) -> list[str]:
    """A remark for each wound string whose stated diameter differs from the sum of its core and wraps."""
    found = []
    for k, string in enumerate(design.strings.each):
        if string.wound is not None and abs(string.diameter - string.wound.diameter) > FLATTENED + 1e-9:
            key = f"strings.each.{k}.diameter"
            stated = f"{dotted(split(key))} = {plain(round(string.diameter, 2))}{_unit(key, facts)}"
            found.append(
                f"{stated} is not the {plain(round(string.wound.diameter, 2))} mm that its core and wraps come to: the "
                "mass follows from these, the spacing from the diameter"
            )
    return found


def _swapped(design: Design) -> list[str]:
    """A remark on each pair of sizes that is possible but rare: the maker has probably swapped the two."""
    thickness, rod, found = design.plan.neck.thickness, design.rod, []
    if thickness.fret_12 < thickness.fret_1:
        found.append(
            "neck.thickness.fret_12 is less than fret_1, so the neck gets thinner toward the body: are the two swapped?"
        )
    if rod is not None and rod.kind == "two-way" and rod.width > rod.height:
        found.append("rod.width is more than rod.height, and a two-way rod stands upright: are the two swapped?")
    return found


def _unit(key: str, facts: Facts) -> str:
    """The unit behind a number: none in a file in mm, "mm" in a file in inches, where it is converted later."""
    field = fields.field_at(Design, split(key))
    return " mm" if facts.unit == "in" and field is not None and fields.is_length(field) else ""


def _is_stated(design: Design, key: str) -> bool:
    """Whether a key is stated itself, or through a short form such as one radius for both ends."""
    path = split(key)
    if design.stated(key):
        return True
    found = design.source.raw.get(str(path[0]))
    inner = found.get(str(path[1])) if isinstance(found, dict) else None
    return isinstance(inner, int | float) or (isinstance(inner, str) and inner not in ("auto", "flat"))


def _outside(what: str, value: float, usual: Range, of: str = "", unit: str = "") -> list[str]:
    if usual.low - 1e-6 <= value <= usual.high + 1e-6:
        return []
    number = plain(round(value, 2))
    range_ = f"{plain(usual.low)} to {plain(usual.high)}{unit}"
    return [f"{what} = {number}{unit} lies outside the usual {range_}{of} ({usual.basis})"]
