"""What the check of a later string's peg measures."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.design.defaults.defaults import default

ABOUT_PEG: tuple[About, ...] = (
    About(
        "wall/peg",
        "the least wood between the hole of a later string's peg and the glue plane, the channel, and the neck's skin, "
        "as far from the hole's rim as the hole is wide",
        f"limits.wall.peg, {default('limits.wall.peg'):.1f} mm",
        "common practice, no source",
    ),
)
