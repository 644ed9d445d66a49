"""What `explain` prints about the checks of the head."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.design.defaults.defaults import default
from neckmodel.design.defaults.derived import LATER_WALL
from neckmodel.limits import LEAST_NECKING, USUAL_CLEAR

ABOUT_HEAD: tuple[About, ...] = (
    About(
        "head/tuners",
        "the least wood between a tuner's hole and the head's outside; of a head with slots see head/bores",
        f"limits.wall.tuner, {default('limits.wall.tuner'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/scarf",
        "how far the seam of a scarfed head stays clear of the nut's seat and of the access slot, measured on the "
        "solids; a seam that comes out within a volute is told",
        f"0 mm or more; warns below {USUAL_CLEAR:.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/step",
        "the wood under a stepped head's face at the head line, once the neck is carved or the step sawn and measured; "
        "before that a design with less than the limit is refused",
        f"{LEAST_NECKING:.1f} mm",
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
        "by how much each string bends down over the nut: its fall to its tuner's post or roller, or to a string "
        "tree before it, less its own rise toward the bridge",
        f"warns below limits.head_break_angle, {default('limits.head_break_angle'):g} degrees",
        "common practice, no source",
    ),
    About(
        "head/cheek",
        "of a head with slots, the least wood outside them: to the head's sides, and to its far end",
        f"limits.head_cheek, {default('limits.head_cheek'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/core",
        "of a head with slots, the least wood between them; where the access slot runs there, the wood from it to each "
        "of them (limits.wall.access_slot)",
        f"limits.head_core, {default('limits.head_core'):.1f} mm; beside the access slot "
        f"{default('limits.wall.access_slot'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/bores",
        "the least wood round a hole bored into a head with slots: to its face, its back, the next hole and those from "
        "the other side; and the room from the hole to its slot's end",
        f"limits.head_bores, {default('limits.head_bores'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/ramp",
        "by how much each string, straight from the nut to its roller's top, clears the wood where it comes down into "
        "its slot, and the ramp before it; square to the head's face",
        f"limits.head_ramp, {default('limits.head_ramp'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "head/clamp",
        "how far before the neck's end the clamp of a neck without a head ends; a clamp that stands out has no wood "
        "under it there",
        "warns below 0 mm",
        "common practice, no source",
    ),
    About(
        "wall/clamp-screw",
        "the least wood round the holes of the clamp's screws: to the channel and the key's slot, and to the nut end's "
        "sides, end and under side, measured on the carved solid",
        f"limits.wall.clamp_screw, {LATER_WALL:.1f} mm",
        "common practice, no source",
    ),
    About("head/housings", "whether the tuners' housings clear each other", "0 mm or more", "geometry"),
)
