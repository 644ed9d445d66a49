"""Defaults that follow from other numbers of the file. Lengths in mm.

All are common practice, with no published source. A value outside its range gets a warning; it is never refused.
"""

from __future__ import annotations

import math

from neckmodel.design.defaults.assumed import BETWEEN, EDGE_MARGIN, EDGE_MARGIN_AT_LAST_FRET, PLAIN, number
from neckmodel.design.defaults.by_instrument import body_thickness, glued_in, stated, taken
from neckmodel.design.defaults.instruments import GLUED_IN, INSTRUMENTS, POCKET, USUAL
from neckmodel.design.values.keys import Facts, look_up
from neckmodel.design.values.scale import BEHIND_GROOVE, BEHIND_ZERO_FRET, spans

MOST_RELIEF, MOST_RELIEF_OF_NYLON = 0.3, 0.35  # mm, of a neck with neither rod nor bar


def instrument(facts: Facts) -> str | None:
    """The key of USUAL whose widths apply: by the stated kind of instrument, else by what the numbers look like;
    None where no usual width is known."""
    courses = facts.number("strings.courses", 0)
    said = stated(facts)
    if said is not None:
        return said.by_courses.get(int(courses))
    scale = facts.number("strings.scale.bass", 0)
    if courses == 6:
        if has_nylon(facts):
            return "nylon"
        return "steel" if facts.text("heel.kind") in GLUED_IN else "electric"
    if courses == 7:
        return "seven"
    if courses in (4, 5) and scale >= 700:
        return f"bass-{courses:g}"
    return "mandolin" if courses == 4 and scale < 450 else None


def step_at_fret(facts: Facts) -> int | None:
    """`fretboard.step_at_fret`: the fret at which the first string starts; None where it starts at the nut."""
    listed = look_up(facts.raw, ("strings", "each"))
    fret = look_up(facts.raw, ("strings", "each", 0, "starts_at_fret")) if isinstance(listed, list) and listed else None
    return fret if isinstance(fret, int) and not isinstance(fret, bool) else None


def has_nylon(facts: Facts) -> bool:
    """Whether a string is of nylon, or wound on it."""
    listed = look_up(facts.raw, ("strings", "each"))
    count = len(listed) if isinstance(listed, list | tuple) else 0
    return any(facts.text(f"strings.each.{k}.{of}") == "nylon" for k in range(count) for of in ("material", "wound.on"))


def most_relief(facts: Facts) -> float:
    """Of a neck whose relief nothing can set: nylon strings swing wider, and their necks are given more."""
    nylon = has_nylon(facts) or facts.text("design.instrument") == "nylon-string"
    return MOST_RELIEF_OF_NYLON if nylon else MOST_RELIEF


def spacing_at_nut(facts: Facts) -> float:
    """`strings.spacing_at_nut`, mm: between the centres of the outer strings."""
    if facts.has("fretboard.width.nut"):
        return facts.number("fretboard.width.nut") - 2 * EDGE_MARGIN
    kind = instrument(facts)
    width = USUAL[kind].nut_width if kind else taken(facts).course_at_nut * number(facts, "strings.courses")
    return width - 2 * number(facts, "fretboard.edge_margin.nut")


def spacing_at_bridge(facts: Facts) -> float:
    """`strings.spacing_at_bridge`, mm: between the centres of the outer strings."""
    kind = instrument(facts)
    return USUAL[kind].at_bridge if kind else taken(facts).gap_at_bridge * (number(facts, "strings.courses") - 1)


def wound_diameter(string: Facts) -> float | None:
    """Outside diameter of a wound string, mm: its core and twice each wrap. None for a plain string."""
    if not string.has("wound"):
        return None
    stated = look_up(string.raw, ("wound", "wrap"))
    count = len(stated) if isinstance(stated, list | tuple) else 1
    keys = ["wound.wrap"] if not isinstance(stated, list | tuple) else [f"wound.wrap.{k}" for k in range(count)]
    return string.number("wound.core") + 2 * sum(string.number(key) for key in keys)


def nut_width(facts: Facts) -> float:
    """Width of the fretboard at the nut, mm, from the values stated so far."""
    if facts.has("fretboard.width.nut"):
        return facts.number("fretboard.width.nut")
    return number(facts, "strings.spacing_at_nut") + 2 * number(facts, "fretboard.edge_margin.nut")


def margin_at_nut(facts: Facts) -> float:
    """`fretboard.edge_margin.nut`, mm: from the outer string's centre to the edge."""
    if facts.has("fretboard.width.nut"):
        return (facts.number("fretboard.width.nut") - number(facts, "strings.spacing_at_nut")) / 2
    return EDGE_MARGIN


def margin_at_last_fret(facts: Facts) -> float:
    """`fretboard.edge_margin.last_fret`, mm. Where the file states `width`, the margin is half of what the width
    leaves beside the outer strings at the last fret; edges and strings are straight."""
    if not facts.has("fretboard.width.end"):
        return EDGE_MARGIN_AT_LAST_FRET
    scale = (number(facts, "strings.scale.bass") + number(facts, "strings.scale.treble")) / 2
    last = scale * (1 - 2 ** (-number(facts, "fretboard.frets") / 12))
    past = number(facts, "fretboard.past_last_fret")
    end = facts.number("fretboard.ends_at", last + past)
    at_nut, at_end = number(facts, "fretboard.width.nut"), facts.number("fretboard.width.end")
    s0, s1 = number(facts, "strings.spacing_at_nut"), number(facts, "strings.spacing_at_bridge")
    return (at_nut + (at_end - at_nut) * last / max(end, 1.0) - s0 - (s1 - s0) * last / max(scale, 1.0)) / 2


def is_bass(facts: Facts) -> bool:
    """Whether the instrument is a bass."""
    return (instrument(facts) or "").startswith("bass")


def thickness(facts: Facts) -> tuple[float, float]:
    """`neck.thickness` at frets 1 and 12, mm."""
    unstated = INSTRUMENTS["bass"] if is_bass(facts) else PLAIN
    return (stated(facts) or unstated).thickness


def radius(facts: Facts) -> float | str:
    """`fretboard.radius`: mm, or "flat" on instruments with nylon strings."""
    nylon = instrument(facts) == "nylon" or facts.text("design.instrument") == "nylon-string"
    return "flat" if nylon else 300.0


def through(facts: Facts) -> bool:
    """Whether the neck runs through the body."""
    return facts.text("heel.kind") == "through"


def heel_depth(facts: Facts) -> float:
    """`heel.depth`, mm: of the heel below the glue plane."""
    if through(facts):
        return facts.number("body.thickness", body_thickness(facts))
    glued = glued_in(facts)
    if glued is not None and glued.glued_heel is not None:
        return glued.glued_heel
    return taken(facts).heel


LATER_WALL = 3.0  # mm, the limit of a wall that came later than the others


def one_wall(facts: Facts) -> float:
    """A limit of a wall that came later than the others, mm: the one length where `limits.wall` states one for all."""
    return facts.number("limits.wall", LATER_WALL)


LEVEL_END = 4.0  # mm of a nut end left level at the neck's end


def swell_length(facts: Facts) -> float:
    """`head.swell_length`, mm; shorter in a short nut end. Before a volute it is longer, for the carve must come out of
    the head's back before the volute begins."""
    if facts.text("head.kind") == "none":
        return min(30.0, max(facts.number("head.end.length") - LEVEL_END, 5.0))
    if not facts.has("head.volute"):
        return 30.0
    return max(30.0, number(facts, "head.volute.length") / 2 - number(facts, "head.starts_at") + 25)


def nut_height(facts: Facts) -> float:
    """`nut.height`, mm: 2 mm over the fretboard, 8 mm at least."""
    below = number(facts, "nut.seat_depth") if facts.text("nut.seat") == "groove" else 0.0
    return max(8.0, number(facts, "fretboard.thickness") + 2.0 + below)


def head_line(facts: Facts) -> float:
    """`head.starts_at`, mm: 1 mm behind the nut, or behind the fretboard wood that lies behind the nut. Where the
    nut is slanted its farthest corner counts."""
    nut = number(facts, "nut.thickness") * (1 + BEHIND_GROOVE if facts.text("nut.seat") == "groove" else 1)
    nut += BEHIND_ZERO_FRET if facts.truth("fretboard.zero_fret") else 0.0
    names = ("scale.bass", "scale.treble", "scale.square_fret", "spacing_at_nut", "spacing_at_bridge")
    bass, treble, square, at_nut, at_bridge = (facts.number(f"strings.{name}", 1.0) for name in names)
    slope = abs(spans(bass, treble, square, at_nut, at_bridge).slope(0.0)) if bass != treble and at_nut > 0 else 0.0
    return -min(round(nut * math.hypot(1.0, slope) + slope * nut_width(facts) / 2 + 1, 2), 100.0)


def pocket_depth(facts: Facts) -> float:
    """`heel.neck_pocket_depth`, mm: of the body's pocket for the heel."""
    if through(facts):
        return 0.0
    if facts.has("body.under_pocket"):
        return facts.number("body.thickness", body_thickness(facts)) - facts.number("body.under_pocket")
    if glued_in(facts) is not None or facts.text("heel.kind") == "dovetail":
        return facts.number("heel.depth")  # the fretboard lies on the top
    return taken(facts).heel - POCKET


def body_top(facts: Facts) -> float:
    """`body.top`, mm: z of the body's top at the joint; 0 on a neck that runs through."""
    if through(facts):
        return 0.0
    return number(facts, "heel.neck_pocket_depth") - number(facts, "heel.depth")


def _strips(facts: Facts) -> range:
    listed = look_up(facts.raw, ("board", "strips"))
    return range(len(listed) if isinstance(listed, list | tuple) else 0)


def board_width(facts: Facts) -> float | None:
    """`board.width`, mm: what its strips come to. None for a board in one piece, whose file must state it."""
    widths = [facts.number(f"board.strips.{k}.width") for k in _strips(facts)]
    return sum(widths) if widths else None


def neck_wood(facts: Facts) -> str:
    """`neck.wood`: of the widest of the board's strips, the first from the bass side of several."""
    widest = max(_strips(facts), key=lambda k: facts.number(f"board.strips.{k}.width"), default=None)
    return "maple" if widest is None else facts.text(f"board.strips.{widest}.wood") or "maple"


def bar_count(facts: Facts) -> int:
    """`bars.count`: one either side of a rod; one alone, or between two rods."""
    return 2 if facts.has("rod") and facts.number("rod.count", 1) < 2 else 1


def bar_offset(facts: Facts) -> float:
    """`bars.offset`, mm: from the centre line to each of two bars, outside of two rods; 0 for a single bar."""
    if number(facts, "bars.count") < 2:
        return 0.0
    beside = max(facts.number("rod.width", 0), facts.number("rod.block.width", 0))
    clear = beside / 2 + number(facts, "bars.width") / 2
    if facts.number("rod.count", 1) < 2:
        return clear + 3.0
    return facts.number("rod.offset", 0) + clear + BETWEEN + 0.5


def engaged_depth(facts: Facts) -> float:
    """`adjusting_key.engaged_depth`, mm: as deep as the key is wide. A ball-end key goes in less deep, or it could
    not be tilted."""
    share = 0.6 if facts.text("adjusting_key.kind") == "ball-end" else 1.0
    return min(share * number(facts, "adjusting_key.size"), number(facts, "rod.adjuster.socket.depth"))


def compression_axis(facts: Facts) -> float | None:
    """`rod.adjuster.axis_below_top` of a compression rod, mm: half its diameter. None for other rods, whose files
    must state it."""
    size = compression_size(facts)
    return None if size is None else size / 2


def compression_size(facts: Facts) -> float | None:
    """`rod.width` and `rod.height` of a compression rod, mm: its diameter. None for other rods, whose files must
    state them."""
    return number(facts, "rod.diameter") if facts.text("rod.kind") == "compression" else None


def fretboard_wood(facts: Facts) -> str:
    """`fretboard.wood`: the neck's own where the two are one piece."""
    if not facts.truth("fretboard.in_one"):
        return "rosewood"
    return facts.text("neck.wood") or neck_wood(facts)
