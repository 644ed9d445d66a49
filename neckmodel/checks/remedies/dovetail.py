"""Remedies for a dovetail with too little wood at its root, or too narrow a shoulder beside it. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.design import HeelWidth
from neckmodel.geometry.smooth import smoothstep
from neckmodel.layout.channel.root import root_wood
from neckmodel.layout.heel.dovetail import Dovetail

if TYPE_CHECKING:
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.root import RootWood

WIDTH, DEPTH = "heel.tenon.width", "heel.tenon.depth"
ANGLE = 0.5  # degrees to which a cheek's angle is set
LEAST_FLARE = 8.0  # degrees; with less a dovetail holds little (common practice, no source)
MEASURED = 0.02  # mm more than the limit, for the shoulder's skin is known so well


def stouter(layout: Layout, tenon: Dovetail, found: RootWood, loss: float) -> Remedy | None:
    """A wider dovetail, cheeks that lean less, or, where the bottom is too narrow, a less deep one. found: as
    measured. loss: what the tolerances may take of it."""
    design, limit = layout.design, layout.design.limits.heel_dovetail

    def ways(aim: Aim) -> Remedy | None:
        short = limit + aim.spare - found.wood
        along, down = tenon.slope
        flare = _degrees(along - short / (tenon.x_end - tenon.x_root))
        taper = _degrees(down - short / found.depth)
        less_deep = aim.down(DEPTH, tenon.depth - short / down) if found.step is None and down > 0 else 0.0
        return any_of(
            possible(design, {WIDTH: aim.up(WIDTH, 2 * (tenon.half_width + short))}),
            possible(design, {"heel.tenon.flare": flare}) if flare >= LEAST_FLARE else None,
            possible(design, {"heel.tenon.taper": taper}) if taper >= 0 else None,
            possible(design, {DEPTH: less_deep}) if less_deep > tenon.depth / 2 else None,
        )

    return graded(design, ways, loss)


def _degrees(slope: float) -> float:
    """The next angle in steps of ANGLE that is no steeper than this slope."""
    return math.floor(math.degrees(math.atan(slope)) / ANGLE + 1e-9) * ANGLE


def broader_shoulder(layout: Layout, tenon: Dovetail, measured: float) -> Remedy | None:
    """A narrower dovetail that still keeps its wood at the root, or a wider heel."""
    design, limit = layout.design, layout.design.limits.heel_shoulder
    short = limit + MEASURED - measured

    def good(new: Layout) -> bool:
        after = new.heel.tenon
        stout = isinstance(after, Dovetail) and root_wood(after, new.steps).wood >= design.limits.heel_dovetail
        return stout and new.heel.shoulder()[0] >= limit - SLACK

    def ways(aim: Aim) -> Remedy | None:
        return any_of(
            possible(design, {WIDTH: aim.down(WIDTH, 2 * (tenon.half_width - short))}, good),
            possible(design, _wider(layout, short, aim), good),
        )

    return graded(design, ways)


def _wider(layout: Layout, short: float, aim: Aim) -> dict[str, float]:
    """A heel wider at its bottom, or, where its sides stand upright, all over."""
    heel, (_, down) = layout.heel, layout.heel.shoulder()
    if heel.half_bottom is None:
        return {"heel.width": aim.up("heel.width", 2 * (layout.outside.half_width(heel.x_joint) + short))}
    share = smoothstep(down / heel.depth)
    wanted = 2 * (heel.half_bottom + short / share) if share > 0 else math.inf
    key = "heel.width.cap"
    stated = layout.design.heel.width
    if not isinstance(stated, HeelWidth) or wanted > 2 * layout.outside.half_width(heel.x_joint):
        return {}
    return {key: aim.up(key, wanted)}
