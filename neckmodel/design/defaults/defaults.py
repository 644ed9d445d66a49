"""Every default of the design file and the range that each value usually lies in. Lengths in mm.

All are common practice, with no published source. A value outside its range gets a warning; it is never refused.
"""

from __future__ import annotations

from collections.abc import Callable

from neckmodel.design.defaults import by_instrument, derived
from neckmodel.design.defaults.assumed import ASSUMED, BETWEEN, PEG, PLACE_ADJUSTER, PLAIN, number
from neckmodel.design.defaults.instruments import Range
from neckmodel.design.values.keys import ByInstrument, Facts, OfItem

# exponent of the back's superellipse for each family
FULLNESS = {"V": 1.35, "soft-V": 1.7, "C": 2.0, "D": 2.6, "U": 3.5}
LEAN = 0.0

PAST_LIMIT = 1.0  # mm by which rod and bars lie past the least gap from the nut

Value = bool | int | float | str | list[object] | dict[str, object] | None


# Filled in this order: a default may read what is stated and what stands above it. `*` is every item of a list.
DEFAULTS: dict[str, Value | OfItem | ByInstrument | Callable[[Facts], Value]] = {
    "design.remark": "",
    "design.units": "mm",
    "design.hand": "right",
    "strings.paired": False,
    "strings.divided_by": "gaps",
    "strings.each": [],
    "strings.each.*.wound.on": "steel",
    "strings.each.*.diameter": OfItem(derived.wound_diameter),
    "action.at_nut": ByInstrument(by_instrument.at_nut),
    "action.at_12": ByInstrument(by_instrument.at_12),
    "action.wanted_relief": ByInstrument(by_instrument.relief),
    "nut.thickness": ASSUMED["nut.thickness"],
    "nut.seat": "ledge",
    "nut.seat_depth": ASSUMED["nut.seat_depth"],
    "heel.kind": ByInstrument(by_instrument.heel_kind),
    "fretboard.frets": ByInstrument(by_instrument.frets),
    "fretboard.zero_fret": False,
    "fretboard.past_last_fret": ASSUMED["fretboard.past_last_fret"],
    "strings.spacing_at_nut": derived.spacing_at_nut,
    "strings.spacing_at_bridge": derived.spacing_at_bridge,
    "fretboard.thickness": ASSUMED["fretboard.thickness"],
    "nut.height": derived.nut_height,
    "fretboard.edge_margin.nut": derived.margin_at_nut,
    "fretboard.edge_margin.last_fret": derived.margin_at_last_fret,
    "fretboard.step_at_fret": derived.step_at_fret,
    "fretboard.step_length": 12.0,
    "fretboard.radius": ByInstrument(derived.radius),
    "fretboard.fret_slot.width": 0.6,
    "fretboard.fret_slot.depth": 2.3,
    "fretboard.fret_slot.floor": "curved",
    "fretboard.fret_slot.filler": lambda facts: "maple" if facts.text("fretboard.fretless") == "lined" else None,
    "fretboard.fret_height": 1.1,
    "fretboard.in_one": False,
    "fretboard.wood": derived.fretboard_wood,
    "fretboard.rings": "quarter",
    "neck.wood": derived.neck_wood,
    "neck.thickness.fret_1": ByInstrument(lambda facts: derived.thickness(facts)[0]),
    "neck.thickness.fret_12": ByInstrument(lambda facts: derived.thickness(facts)[1]),
    "neck.back": "C",
    "heel.width": "follow-fretboard",
    "heel.depth": ByInstrument(derived.heel_depth),
    "heel.tenon": ByInstrument(by_instrument.tenon),
    "heel.tenon.flare": by_instrument.flare,
    "heel.tenon.taper": by_instrument.taper,
    "heel.cap.wood": lambda facts: facts.text("fretboard.wood"),
    "heel.corner_radius": 6.0,
    "heel.swell_from": 30.0,
    "heel.screws": [],
    "heel.screws.*.kind": "wood-screw",
    "heel.wings": [],
    "heel.wings.*.from_joint": 0.0,
    "heel.plate": 0.0,
    "body.cutouts": [],
    "body.thickness": ByInstrument(by_instrument.body_thickness),
    "heel.neck_pocket_depth": derived.pocket_depth,
    "body.under_pocket": lambda facts: number(facts, "body.thickness") - number(facts, "heel.neck_pocket_depth"),
    "body.top": derived.body_top,
    "body.top_thickness": 2.8,
    "body.braces": [],
    "head.kind": ByInstrument(by_instrument.head_kind),
    "head.starts_at": derived.head_line,
    "head.angle": lambda facts: 13.0 if facts.text("head.kind") == "scarfed" else 12.0,
    "head.drop": 9.0,
    "head.thickness": by_instrument.head_thickness,
    "head.length": ByInstrument(by_instrument.length_of_head),
    "head.outline.near": lambda facts: derived.nut_width(facts) + 4,
    "head.outline.far": lambda facts: derived.nut_width(facts) + 14,
    "head.scarf": "under",
    "head.swell_length": derived.swell_length,
    "head.wings": [],
    "head.wings.*.length": lambda facts: number(facts, "head.length"),
    "head.slots.ends": "round",
    "head.tuners": [],
    "head.tuners.*.string_height": OfItem(by_instrument.string_height),
    "head.tuners.*.into_core": OfItem(by_instrument.into_core),
    "head.clamp.screws": [],
    "rod.count": 1,
    "rod.adjuster_at": "head",
    "rod.width": derived.compression_size,
    "rod.height": derived.compression_size,
    "rod.adjuster.travel": 0.0,
    "rod.adjuster.axis_below_top": derived.compression_axis,
    "rod.block.length": 0.0,
    "rod.block.width": lambda facts: number(facts, "rod.width"),
    "rod.block.height": lambda facts: number(facts, "rod.height"),
    "rod.anchor.length": 0.0,
    "rod.anchor.width": lambda facts: number(facts, "rod.width"),
    "rod.anchor.height": lambda facts: number(facts, "rod.height"),
    "rod.segments": [],
    "adjusting_key.size": lambda facts: number(facts, "rod.adjuster.socket.size"),
    "adjusting_key.arm_in_socket": "long",
    "adjusting_key.bend_radius": lambda facts: number(facts, "adjusting_key.size"),
    "adjusting_key.engaged_depth": derived.engaged_depth,
    "adjusting_key.enters": "face",
    "adjusting_key.grip": 25.0,
    "rod_place.from_nut": lambda facts: number(facts, "limits.place_adjuster") + PAST_LIMIT,
    "rod_place.past_joint": ByInstrument(by_instrument.past_joint),
    "rod_place.past_joint_of": "outer",
    "rod_place.wood_beyond_rod": 6.0,
    "channel.cut_from": "front",
    "channel.wider_by": 0.1,
    "channel.deeper_by": 0.1,
    "channel.adjuster_clearance": 0.8,
    "channel.end_clearance": 1.0,
    "channel.ends": "squared",
    "channel.key_swing": 75,
    "channel.key_clearance": 0.5,
    "bars.count": derived.bar_count,
    "bars.from_nut": lambda facts: facts.number(
        "rod_place.from_nut", number(facts, "limits.place_adjuster") + PAST_LIMIT
    ),
    "bars.offset": derived.bar_offset,
    "bars.material": "carbon",
    "board.width": derived.board_width,
    "board.surface": "trued",
    "board.allowance.sides": 2.5,
    "board.allowance.ends": 10.0,
    "board.allowance.back": 2.0,
    "board.rings": "quarter",
    "workshop.cutters": [],
    "workshop.kerf": 3.0,
    "workshop.printer.bed": [210.0, 200.0, 190.0],
    "workshop.printer.nozzle": 0.4,
    "workshop.printer.fit_per_side": 0.2,
    "workshop.printer.overhang": 45.0,
    "workshop.tolerances.depth": 0.15,
    "workshop.tolerances.sideways": 0.2,
    "workshop.tolerances.glue_plane": 0.1,
    "workshop.tolerances.carve": 0.4,
    "workshop.tolerances.tilt": 0.0,
    "workshop.tolerances.stock": 0.1,
    "workshop.tolerances.measuring": 0.1,
    "seasons.dry.humidity": 35.0,
    "seasons.dry.temperature": 20.0,
    "seasons.damp.humidity": 65.0,
    "seasons.damp.temperature": 20.0,
    "limits.wall.run": 3.0,
    "limits.wall.block": 3.0,
    "limits.wall.anchor": 3.0,
    "limits.wall.adjuster": 3.0,
    "limits.wall.access_slot": 3.0,
    "limits.wall.rod_end": 3.0,
    "limits.wall.screw": 3.0,
    "limits.wall.tuner": 3.0,
    "limits.wall.bar": 3.0,
    "limits.wall.washer": 3.0,
    "limits.wall.clamp_screw": derived.one_wall,
    "limits.wall.between": BETWEEN,
    "limits.wall.peg": PEG,
    "limits.glue_nut": 4.0,
    "limits.cover_run": 2.0,
    "limits.cover_strip": 3.0,
    "limits.cover_back_strip": 3.0,
    "limits.place_adjuster": PLACE_ADJUSTER,
    "limits.fit_run": 0.2,
    "limits.fret_slots_edge": 0.5,
    "limits.heel_screws": 12.0,
    "limits.heel_dovetail": 5.0,
    "limits.heel_shoulder": 3.0,
    "limits.head_break_angle": 5.0,
    "limits.head_cheek": 8.0,
    "limits.head_core": 16.0,
    "limits.head_bores": 3.0,
    "limits.head_ramp": 0.5,
    "limits.strength_relief": derived.most_relief,
    "limits.access_brace": 3.0,
    "limits.stock_seams": 0.5,
    "limits.stock_grain": 1 / 12,
}


def default(key: str) -> float:
    """The default of a length that does not depend on other values, mm. Raises TypeError where it is no number."""
    value = DEFAULTS[key]
    if not isinstance(value, float):
        raise TypeError(f"the default of {key} is no number: {value!r}")
    return value


# Only tables that the file has are completed: these may be left out altogether.
OPTIONAL = (
    *("design", "strings", "fretboard", "neck", "heel.tenon", "heel.cap", "head.slots", "head.clamp"),
    *("rod", "rod.adjuster", "adjusting_key", "bars", "board"),
)

# No default is put in for a key where the file states one of these, which say the same in another way.
INSTEAD = {
    "fretboard.past_last_fret": ("fretboard.ends_at",),
    "head.outline.near": ("head.outline.file",),
    "head.outline.far": ("head.outline.file",),
}

RANGES: dict[str, Range] = {
    "fretboard.edge_margin.nut": Range(2.8, 5),
    "fretboard.edge_margin.last_fret": Range(2.8, 5),
    "fretboard.thickness": Range(4.5, 7.5),
    "fretboard.radius.nut": Range(180, 500),
    "fretboard.radius.end": Range(180, 500),
    "fretboard.past_last_fret": Range(4, 12),
    "fretboard.fret_slot.depth": Range(1.8, 3.0),
    "neck.thickness.fret_1": Range(18, 24),
    "neck.thickness.fret_12": Range(18, 24),
    "nut.thickness": Range(3, 6.5),
    "head.angle": Range(8, 17),
    "head.thickness": Range(13, 16),
    "head.drop": Range(7, 11),
    "heel.tenon.flare": Range(8, 15),
    "heel.tenon.taper": Range(2, 6),
    "rod_place.from_nut": Range(3, 12),
    "rod_place.past_joint": Range(10, 30),
    "rod_place.wood_beyond_rod": Range(4, 10),
    "channel.wider_by": Range(0, 0.2),
    "channel.deeper_by": Range(0, 0.3),
    "channel.adjuster_clearance": Range(0.5, 1.5),
    "channel.key_clearance": Range(0.3, 1),
    "action.wanted_relief": PLAIN.strung.relief_range,
}
