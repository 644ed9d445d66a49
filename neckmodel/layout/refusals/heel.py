"""Heels and tenons that cannot be built."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design import HeelWidth
from neckmodel.design.reading.measured import is_measured
from neckmodel.layout.neck.outside import LEAST_STEP, Outside
from neckmodel.layout.refusals.head import LEAST_SHAFT
from neckmodel.layout.refusals.measured import carve_to
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design


# Least sizes for a shape that can be built, mm; common practice, no source
LEAST_ROOT = 1.0  # of half width at the bottom of a dovetail's root
LEAST_END = 1.0  # of straight side between the joint and the heel's corners, and of end between the corners


def refuse_heel(design: Design, outside: Outside) -> None:
    """Raises DesignError for a heel that cannot be built, naming the key and the least change that helps."""
    back, heel = outside.back, outside.heel
    first = heel.x_joint + heel.corner_radius + LEAST_END
    if heel.x_end < first:
        raise design.problem(
            "heel.wood_ends_at",
            "the wood ends before the joint and its corners",
            f"at least {no_less(first)}",
            "or an earlier neck.joint_fret",
        )
    half = outside.half_width(heel.x_end)
    if heel.corner_radius > half - LEAST_END:
        raise design.problem(
            "heel.corner_radius", "is more than the heel's end is wide", f"at most {no_more(half - LEAST_END)}"
        )
    if heel.half_width is not None and heel.half_width < back.half_width(heel.x_joint):
        table = isinstance(design.heel.width, HeelWidth)
        raise design.problem(
            "heel.width.joint" if table else "heel.width",
            "is less than the neck's width at the joint",
            f'at least {no_less(2 * back.half_width(heel.x_joint))}, or "follow-fretboard"',
        )
    if heel.half_bottom is not None and heel.half_bottom > outside.half_width(heel.x_joint):
        raise design.problem(
            "heel.width.cap",
            "is more than the heel's width at the glue plane",
            f"at most {no_more(2 * outside.half_width(heel.x_joint))}",
        )
    if heel.x_swell < back.x_1 + LEAST_SHAFT:
        raise design.problem(
            "heel.swell_from",
            "the heel's swell reaches fret 1",
            f"at most {no_more(heel.x_joint - back.x_1 - LEAST_SHAFT)}",
        )
    step = _step_of(outside)
    if step < LEAST_STEP:
        least = f"at least {no_less(heel.depth + LEAST_STEP - step)}"
        cut, carve = is_measured(design, "heel.depth"), ""
        if cut:
            carve = carve_to(design, outside, lambda new: _step_of(new) >= LEAST_STEP, thinner=True)
        raise design.problem(
            "heel.depth",
            "the heel is not deeper than the carved neck where it joins",
            "" if carve else least,
            carve,
        )


def _step_of(outside: Outside) -> float:
    """How far the heel's bottom lies below the carved neck at the joint, mm."""
    return outside.heel.depth - max(outside.back.depth(outside.heel.x_joint), outside.back.depth(outside.heel.x_swell))


def refuse_tenon(design: Design, outside: Outside) -> None:
    """Raises DesignError for a tenon wider or deeper than its heel, and for a dovetail whose cheeks meet."""
    heel, tenon = outside.heel, outside.heel.tenon
    if tenon is None:
        return
    wide = outside.half_width(heel.x_joint)
    if tenon.half_width > wide + 1e-6:
        raise design.problem("heel.tenon.width", "is more than the heel's", f"at most {no_more(2 * wide)}")
    spare, down = heel.shoulder()
    if spare < -1e-6 and tenon.depth <= heel.depth + 1e-6:
        raise design.problem(
            "heel.tenon.width",
            f"is more than the heel's {down:.1f} mm below the glue plane: there the {tenon.name} would stand out "
            f"of its sides by {-spare:.2f} mm",
            f"at most {no_more(2 * (tenon.half_width + spare))}",
            f"or a wider heel: heel.width.cap = {no_less(2 * ((heel.half_bottom or wide) - spare))}",
        )
    root = tenon.half_at(heel.x_joint, tenon.depth)
    if root < LEAST_ROOT:
        raise design.problem(
            "heel.tenon.width",
            "leaves no wood at the bottom of the dovetail's root, where its cheeks come together",
            f"at least {no_less(2 * (tenon.half_width + LEAST_ROOT - root))}",
            "or a smaller heel.tenon.flare or heel.tenon.taper, or a shorter or less deep dovetail",
        )
    if tenon.depth > heel.depth + 1e-6:
        raise design.problem("heel.tenon.depth", "is more than the heel's", f"at most {no_more(heel.depth)}")
