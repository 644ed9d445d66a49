"""Shafts that cannot be built; and the order in which the whole outside is tested."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.refusals.head import LEAST_DEPTH, LEAST_SHAFT, refuse_head
from neckmodel.layout.refusals.heel import refuse_heel, refuse_tenon
from neckmodel.layout.refusals.measured import naming_measured
from neckmodel.layout.refusals.volute import refuse_volute
from neckmodel.layout.wood.blank import shaft_ramps
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design


LEAST_HALF = 8.0  # of half width along the shaft


LEAST_SIDE = 4.0  # from the deepest line of a leaning back to the nearer edge


@naming_measured
def refuse_outside(design: Design, outside: Outside) -> None:
    """Raises DesignError where head, shaft and heel do not fit each other. The first fault found is reported."""
    refuse_shaft(design, outside)
    refuse_heel(design, outside)
    refuse_tenon(design, outside)
    refuse_head(design, outside)
    refuse_volute(design, outside)
    head_ramp, heel_ramp = shaft_ramps(outside, design.allowance.back)
    if heel_ramp[0] - head_ramp[0] < LEAST_SHAFT:
        raise design.problem(
            "heel.depth",
            f"{outside.head.named} and heel are so deep that the sawn ramps between them meet",
            f"a shallower heel or {outside.head.named}",
        )


def refuse_shaft(design: Design, outside: Outside) -> None:
    """Raises DesignError for a shaft that is too thin or too narrow, or whose back leans to the neck's edge."""
    back, head, heel = outside.back, outside.head, outside.heel
    for x in (head.x_swell, heel.x_joint):
        if back.depth(x) < LEAST_DEPTH or back.half_width(x) < LEAST_HALF:
            raise design.problem(
                "neck.thickness",
                f"leaves wood {back.depth(x):.2f} mm deep and {2 * back.half_width(x):.2f} mm wide at x {x:.1f} mm",
                f"at least {LEAST_DEPTH:g} mm deep and {2 * LEAST_HALF:g} mm wide along the whole shaft",
                "a smaller difference between fret_1 and fret_12",
            )
    for fret, apex in (("fret_1", back.apex_1), ("fret_12", back.apex_12)):
        most = min(back.half_width(head.x_swell), back.half_width(heel.x_joint)) - LEAST_SIDE
        if abs(apex) > most:
            raise design.problem(
                f"neck.back.{fret}.lean", "brings the deepest line to the neck's edge", f"at most {no_more(most)}"
            )
