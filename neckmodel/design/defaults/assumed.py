"""What is taken for a number that a default follows from, where the file does not state it readably: a six-string
electric's. Lengths in mm.

All are common practice, with no published source. What is a default of its own key stands here once, and `DEFAULTS`
takes it from here.
"""

from __future__ import annotations

from neckmodel.design.defaults.instruments import INSTRUMENTS, POCKET, USUAL, head_length
from neckmodel.design.values.keys import Facts

PLAIN = INSTRUMENTS["electric"]
"""The instrument whose values a file gets that states none."""

COURSES = 6
WIDTHS = USUAL["electric"]
EDGE_MARGIN, EDGE_MARGIN_AT_LAST_FRET = 3.5, 4.0  # mm from an outer string's centre to the fretboard's edge
PLACE_ADJUSTER = 4.0  # mm from the nut to the rod, at least
PEG = 3.0  # mm of wood round the hole of a peg in the neck, at least
BETWEEN = 6.0  # mm of wood between the channels of two rods, at least

ASSUMED: dict[str, float] = {
    "strings.courses": COURSES,
    "strings.scale.bass": 640.0,
    "strings.scale.treble": 640.0,
    "strings.spacing_at_nut": WIDTHS.nut_width - 2 * EDGE_MARGIN,
    "strings.spacing_at_bridge": WIDTHS.at_bridge,
    "nut.thickness": 5.0,
    "nut.seat_depth": 2.0,
    "fretboard.frets": PLAIN.frets,
    "fretboard.past_last_fret": 8.0,
    "fretboard.thickness": 6.0,
    "fretboard.edge_margin.nut": EDGE_MARGIN,
    "fretboard.width.nut": WIDTHS.nut_width,
    "heel.depth": PLAIN.heel,
    "heel.neck_pocket_depth": PLAIN.heel - POCKET,
    "body.thickness": PLAIN.body,
    "head.length": head_length(PLAIN, COURSES, []),
    "head.starts_at": -6.0,
    "head.volute.length": 30.0,
    "rod.width": 6.0,
    "rod.height": 9.0,
    "rod.diameter": 5.0,
    "rod.adjuster.socket.size": 4.0,
    "rod.adjuster.socket.depth": 30.0,  # deeper than any key goes in
    "adjusting_key.size": 4.0,
    "bars.count": 1,
    "bars.width": 5.0,
    "limits.place_adjuster": PLACE_ADJUSTER,
}


def number(facts: Facts, key: str) -> float:
    """The length in mm, or the plain number, that the file states at `key`; what is assumed where it states none."""
    return facts.number(key, ASSUMED[key])
