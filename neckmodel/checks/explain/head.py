"""What `explain` prints about the checks of the head."""

from __future__ import annotations

from neckmodel.checks.explain.about import About

ABOUT_HEAD: tuple[About, ...] = (
    About(
        "head/tuners",
        "the least wood between a tuner's hole and the head's outside",
        "limits.wall.tuner, 3.0 mm",
        "common practice, no source",
    ),
    About(
        "head/scarf",
        "how far the seam of a scarfed head stays clear of the nut's seat and of the access slot, measured on the "
        "solids; a seam that comes out within a volute is told",
        "0 mm or more; warns below 3.0 mm",
        "common practice, no source",
    ),
    About(
        "head/step",
        "the wood under a stepped head's face at the head line, once the neck is carved or the step sawn and measured; "
        "before that a design with less than the limit is refused",
        "3.0 mm",
        "common practice, no source",
    ),
    About(
        "head/tuner-count",
        "whether there is a tuner for each string, where tuners are stated",
        "as many tuners as strings",
        "geometry",
    ),
    About(
        "head/break-angle",
        "by how much each string bends down over the nut: its fall to its tuner's post, or to a string tree before it, "
        "less its own rise toward the bridge",
        "warns below limits.head_break_angle, 5 degrees",
        "common practice, no source",
    ),
    About("head/housings", "whether the tuners' housings clear each other", "0 mm or more", "geometry"),
)
