"""Usual sizes of each kind of instrument. Lengths in mm.

All are common practice, with no published source. A value outside its range gets a warning; it is never refused.
"""

from __future__ import annotations

from dataclasses import dataclass

PRACTICE = "common practice, no published source"


@dataclass(frozen=True)
class Range:
    """The range that a value usually lies in, both ends included."""

    low: float
    high: float
    basis: str = PRACTICE


@dataclass(frozen=True)
class Usual:
    """Usual widths for one number of courses: nut width and string spacing at the bridge, each with its range, mm."""

    named: str
    nut_width: float
    nut_range: Range
    at_bridge: float
    bridge_range: Range


def _usual(named: str, nut: tuple[float, float, float], bridge: tuple[float, float, float]) -> Usual:
    return Usual(named, float(nut[0]), Range(nut[1], nut[2]), float(bridge[0]), Range(bridge[1], bridge[2]))


USUAL = {
    "electric": _usual("a 6-string electric", (42.5, 40, 45), (52, 50, 56)),
    "steel": _usual("a 6-string acoustic with steel strings", (44, 42, 46), (55, 54, 58)),
    "nylon": _usual("a 6-string with nylon strings", (52, 48, 54), (58, 56, 60)),
    "bass-4": _usual("a 4-string bass", (40, 37, 45), (57, 54, 60)),
    "bass-5": _usual("a 5-string bass", (46, 44, 50), (70, 66, 76)),
    "seven": _usual("a 7-string", (49, 47, 55), (63, 60, 66)),
    "mandolin": _usual("a mandolin", (29, 28, 34), (40, 38, 44)),
}


@dataclass(frozen=True)
class Strung:
    """How an instrument is strung: height of the strings over fret 12, and relief with its usual range, mm."""

    at_12: float
    relief: float
    relief_range: Range


@dataclass(frozen=True)
class Instrument:
    """One kind of instrument. by_courses: the key of USUAL for so many courses; course_at_nut, gap_at_bridge: width for
    each course at the nut and from course to course at the bridge, for other numbers of them.

    at_nut: height of the strings over fret 1 at the nut. strung; short: the same where its scale length is under
    `short_under`. posts: on the head, from the head line to the first tuner, from one to the next in its row, and from
    the last to the end. heel: depth of a bolted one, in a pocket POCKET less deep; glued_heel: of an acoustic
    instrument's, whose fretboard lies on its top; None: not acoustic. body: its thickness at the neck.
    """

    by_courses: dict[int, str]
    course_at_nut: float
    gap_at_bridge: float
    at_nut: float
    strung: Strung
    short_under: float
    short: Strung
    thickness: tuple[float, float]
    frets: int
    posts: tuple[float, float, float]
    heel: float = 19.0
    glued_heel: float | None = None
    body: float = 45.0

    @property
    def acoustic(self) -> bool:
        """Whether it is an acoustic instrument, whose neck is glued in."""
        return self.glued_heel is not None

    def at_scale(self, scale: float) -> Strung:
        """How it is strung at this scale length, mm."""
        return self.short if scale < self.short_under else self.strung


INSTRUMENTS = {
    "electric": Instrument(
        by_courses={6: "electric", 7: "seven"},
        course_at_nut=7.0,
        gap_at_bridge=10.5,
        at_nut=0.4,
        strung=Strung(1.8, 0.15, Range(0.1, 0.3)),
        short_under=600.0,
        short=Strung(1.7, 0.1, Range(0.05, 0.2)),
        thickness=(20.5, 22.5),
        frets=22,
        posts=(40.0, 40.0, 50.0),
    ),
    "bass": Instrument(
        by_courses={4: "bass-4", 5: "bass-5"},
        course_at_nut=9.2,
        gap_at_bridge=17.5,
        at_nut=0.5,
        strung=Strung(2.4, 0.3, Range(0.2, 0.5)),
        short_under=800.0,
        short=Strung(2.2, 0.25, Range(0.15, 0.4)),
        thickness=(21.5, 24.0),
        frets=22,
        posts=(50.0, 60.0, 70.0),
        heel=22.0,
    ),
    "steel-string": Instrument(
        by_courses={6: "steel"},
        course_at_nut=7.3,
        gap_at_bridge=11.0,
        at_nut=0.4,
        strung=Strung(2.2, 0.2, Range(0.1, 0.3)),
        short_under=600.0,
        short=Strung(2.0, 0.15, Range(0.05, 0.25)),
        thickness=(20.5, 22.5),
        frets=20,
        posts=(45.0, 45.0, 45.0),
        glued_heel=84.0,
        body=98.0,
    ),
    "nylon-string": Instrument(
        by_courses={6: "nylon"},
        course_at_nut=8.6,
        gap_at_bridge=11.6,
        at_nut=0.5,
        strung=Strung(3.2, 0.2, Range(0.1, 0.35)),
        short_under=600.0,
        short=Strung(2.8, 0.15, Range(0.05, 0.3)),
        thickness=(22.0, 24.0),
        frets=19,
        posts=(45.0, 38.0, 59.0),
        glued_heel=80.0,
        body=95.0,
    ),
    "mandolin": Instrument(
        by_courses={4: "mandolin"},
        course_at_nut=7.3,
        gap_at_bridge=13.3,
        at_nut=0.3,
        strung=Strung(1.4, 0.1, Range(0.05, 0.2)),
        short_under=300.0,
        short=Strung(1.4, 0.1, Range(0.05, 0.2)),
        thickness=(19.5, 21.5),
        frets=20,
        posts=(38.0, 23.0, 43.0),
        glued_heel=42.0,
        body=48.0,
    ),
}
"""By the word that `[design] instrument` takes."""

POCKET = 3.0  # mm by which a bolted heel stands out of its pocket
LONG_ROW, CLOSE = 4, 28.0  # tuners in a row; beyond that they stand closer, mm (twelve strings)
TENON_LENGTH, TENON_WIDTH = 20.0, 22.0  # of an acoustic instrument's neck
TENON_SHARE = 0.8  # of the heel's depth
PAST_JOINT = 15.0  # to the rod's anchor
DOVETAIL_WIDTH = 40.0  # of its end face: it must still be wide enough at its root's bottom
UNDER_HEEL = 15.0  # mm of the body's side under a dovetail's heel
FLARE, TAPER = 12.0, 3.0  # degrees, of a dovetail's cheeks
GLUED_IN = ("tenon", "dovetail")
"""The kinds of heel that are glued into a mortise."""
PAST_JOINT_OF_TENON = 5.0  # a rod ends within its tenon


def head_length(of: Instrument, strings: int, tuners: list[float]) -> float:
    """Length of the head, mm: for the tuners at `tuners` (x along the face), or, where none are listed, for this
    many strings with half of their tuners at either side."""
    first, apart, beyond = of.posts
    if tuners:
        return round(beyond - min(tuners), 1)
    row = -(-strings // 2)
    return first + (row - 1) * (apart if row <= LONG_ROW else min(apart, CLOSE)) + beyond
