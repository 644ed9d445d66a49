"""What `explain` prints about the findings of jigs. The jigs measure these themselves when they are made."""

from __future__ import annotations

from neckmodel.checks.explain.about import About

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
        "5.0 mm along the edges of workshop.printer.bed",
        "common practice, no source",
    ),
    About("jig/flat", "the area of a piece that lies flat on the bed", "100 mm2 or more", "common practice, no source"),
    About(
        "jig/overhang",
        "the steepest facet of a piece that looks down and rests on nothing, from the vertical, as it lies on the bed; "
        "a level ceiling held at both ends is a bridge, one held at one side hangs at 90 degrees",
        "workshop.printer.overhang, 45 degrees; a bridge may span 10 mm",
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
        "geometry; letters of at least 4.8 mm by common practice, no source",
    ),
    About(
        "jig/joints",
        "the widest gap between the pieces of a split jig put together, that they share no room, and that with the "
        "joints' clearance they make up the whole",
        "workshop.printer.fit_per_side, 0.2 mm; volume to 0.1 %",
        "geometry",
    ),
    About(
        "jig/pocket",
        "what guide bush and cutter, moved through the real templates, take out of the blank, against the planned "
        "channel; of a trial block, its pockets against the blank's",
        "0.5 mm3, and 0.02 mm in depth",
        "geometry: a boolean difference of solids",
    ),
    About(
        "jig/sled",
        "what the cutter takes out of the blank as the carriage moves along the real rails, against the channel with "
        "its floor as an arc",
        "0.5 mm3, and 0.02 mm in depth",
        "geometry: a boolean difference of solids",
    ),
    About(
        "jig/sled-floor",
        "how far the floor that the sled leaves lies from the channel's planned floor, a parabola",
        "the arc's own difference from the parabola, at most sagitta cubed by length squared, and 0.02 mm",
        "geometry",
    ),
    About(
        "jig/fit",
        "the gap between a jig and the wood that it sits on: fences, lips and saddles",
        "workshop.printer.fit_per_side, 0.2 mm; none where the jig is pressed on",
        "geometry",
    ),
    About(
        "jig/reach",
        "how far the cutter must stand out of the router to reach the floor through base plate and jig",
        "the cutter's stick_out",
        "geometry; 8 mm of base plate is common practice, no source",
    ),
    About(
        "jig/stops",
        "where the router's base or the sled's carriage meets its stops, against where the cut ends",
        "workshop.printer.fit_per_side, 0.2 mm, never too far; of a sled 0.02 mm",
        "geometry",
    ),
    About(
        "jig/contour",
        "how far the edge of a gauge lies from the law of the back's section at its fret",
        "0.01 mm",
        "geometry",
    ),
    About(
        "jig/dovetail",
        "how far the edges of a dovetail's templates lie from the lines of the dovetail",
        "0.02 mm",
        "geometry",
    ),
    About(
        "jig/crown",
        "how far the caul's face lies from the fretboard's crown, and that its grooves clear the frets",
        "0.02 mm",
        "geometry",
    ),
    About(
        "jig/cork",
        "the room between a saddle and the finished back, for the cork that lines it",
        "2.0 mm; up to 1.2 mm more where the neck tapers along a saddle",
        "common practice, no source",
    ),
    About(
        "jig/hole",
        "how wide a guide's hole is and where its axis comes out on the neck, against the plan",
        "0.02 mm",
        "geometry; pilot holes of the Wood Handbook, FPL-GTR-282 (2021)",
    ),
)
