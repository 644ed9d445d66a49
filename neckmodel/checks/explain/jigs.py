"""What `explain` prints about the findings of jigs. The jigs measure these themselves when they are made."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.design.defaults.defaults import default
from neckmodel.limits import (
    BASE_THICKNESS,
    BED_MARGIN,
    BORE_OFF,
    CONTOUR_OFF,
    CORK,
    CORK_LOOSE,
    CROWN_OFF,
    DOVETAIL_OFF,
    HOLE_OFF,
    LEAST_CONTACT,
    LEAST_LETTER,
    MOST_BRIDGE,
    PARTING_SHARE,
    POCKET_DEPTH,
    POCKET_VOLUME,
)

FIT = default("workshop.printer.fit_per_side")

ABOUT_JIGS: tuple[About, ...] = (
    About(
        "jig/solid",
        "whether each piece is one closed solid, by the CAD kernel and on the mesh that is printed",
        "closed",
        "geometry",
    ),
    About(
        "jig/bed",
        "how much of the printer's bed stays free round a piece as it lies, and that it is no higher than the printer",
        f"{BED_MARGIN} mm along the edges of workshop.printer.bed",
        "common practice, no source",
    ),
    About(
        "jig/flat",
        "the area of a piece that lies flat on the bed",
        f"{LEAST_CONTACT:g} mm2 or more",
        "common practice, no source",
    ),
    About(
        "jig/overhang",
        "the steepest facet of a piece that looks down and rests on nothing, from the vertical, as it lies on the bed; "
        "a level ceiling held at both ends is a bridge, one held at one side hangs at 90 degrees",
        f"workshop.printer.overhang, {default('workshop.printer.overhang'):g} degrees; a bridge may span "
        f"{MOST_BRIDGE:g} mm",
        "common practice, no source",
    ),
    About(
        "jig/feature",
        "the thinnest wall and the narrowest slot of a piece, over its level sections as it lies on the bed",
        "two widths of workshop.printer.nozzle",
        "common practice, no source",
    ),
    About(
        "jig/label",
        "whether the whole label (design, kind, piece, side, up) finds room on a piece",
        "warns where words are left out",
        f"geometry; letters of at least {LEAST_LETTER} mm by common practice, no source",
    ),
    About(
        "jig/joints",
        "the widest gap between the pieces of a split jig put together, that they share no room, and that with the "
        "joints' clearance they make up the whole",
        f"workshop.printer.fit_per_side, {FIT} mm; volume to {100 * PARTING_SHARE:g} %",
        "geometry",
    ),
    About(
        "jig/pocket",
        "what guide bush and cutter, moved through the real templates, take out of the blank, against the planned "
        "channel, or the slots of a head; of a trial block, its pockets against the blank's",
        f"{POCKET_VOLUME} mm3, and {POCKET_DEPTH} mm in depth",
        "geometry: a boolean difference of solids",
    ),
    About(
        "jig/sled",
        "what the cutter takes out of the blank as the carriage moves along the real rails, against the channel with "
        "its floor as an arc",
        f"{POCKET_VOLUME} mm3, and {POCKET_DEPTH} mm in depth",
        "geometry: a boolean difference of solids",
    ),
    About(
        "jig/sled-floor",
        "how far the floor that the sled leaves lies from the channel's planned floor, a parabola",
        f"the arc's own difference from the parabola, at most sagitta cubed by length squared, and {POCKET_DEPTH} mm",
        "geometry",
    ),
    About(
        "jig/fit",
        "the gap between a jig and the wood that it sits on: fences, lips and saddles",
        f"workshop.printer.fit_per_side, {FIT} mm; none where the jig is pressed on",
        "geometry",
    ),
    About(
        "jig/reach",
        "how far the cutter must stand out of the router to reach the floor through base plate and jig",
        "the cutter's stick_out",
        f"geometry; {BASE_THICKNESS:g} mm of base plate is common practice, no source",
    ),
    About(
        "jig/stops",
        "where the router's base or the sled's carriage meets its stops, against where the cut ends",
        f"workshop.printer.fit_per_side, {FIT} mm, never too far; of a sled {POCKET_DEPTH} mm",
        "geometry",
    ),
    About(
        "jig/contour",
        "how far the edge of a gauge lies from the law of the back's section at its fret",
        f"{CONTOUR_OFF} mm",
        "geometry",
    ),
    About(
        "jig/dovetail",
        "how far the edges of a dovetail's templates lie from the lines of the dovetail",
        f"{DOVETAIL_OFF} mm",
        "geometry",
    ),
    About(
        "jig/crown",
        "how far the caul's face lies from the fretboard's crown, and that its grooves clear the frets",
        f"{CROWN_OFF} mm",
        "geometry",
    ),
    About(
        "jig/cork",
        "the room between a saddle and the finished back, for the cork that lines it",
        f"{CORK} mm; up to {CORK_LOOSE} mm more where the neck tapers along a saddle",
        "common practice, no source",
    ),
    About(
        "jig/hole",
        "how wide a guide's hole is and where its axis comes out on the neck, against the plan",
        f"{HOLE_OFF} mm; of the guide for a bore to the soundhole {BORE_OFF} mm",
        "geometry; pilot holes of the Wood Handbook, FPL-GTR-282 (2021)",
    ),
)
