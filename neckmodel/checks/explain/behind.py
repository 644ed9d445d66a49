"""What the checks of a channel cut from the back measure."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.design.defaults.defaults import default

ABOUT_BEHIND: tuple[About, ...] = (
    About(
        "wall/top",
        "of a channel cut from the back: the least wood between its floor and a fret slot, or the crown where there "
        "are no slots, measured over its whole width",
        f"limits.wall.top; left out, limits.wall.run, {default('limits.wall.run'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "cover/back-strip",
        "of a channel cut from the back: the least wood, in any direction, between the rod's underside and the carved "
        "back; how deep the strip's sides are glued is told with it",
        f"limits.cover_back_strip, {default('limits.cover_back_strip'):.1f} mm",
        "common practice, no source",
    ),
)
