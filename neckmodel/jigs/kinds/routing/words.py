"""The words of a sled's instructions. Plain texts, no kernel."""

from __future__ import annotations

from neckmodel.jigs.kinds.routing.rails import SledPlan


def usage(plan: SledPlan) -> list[str]:
    """How to set up the sled and work with it."""
    cutting, set_to = plan.setting.cutting, plan.top
    said = [
        f"{plan.name}: clamp both rails against the blank's sides, their ledges down on the glue plane, a clamp at "
        "each end below the carriage's skirts; pins go flush with the ledges.",
        f"{plan.name}: the router stands on the carriage, its bush in the hole: ease the hole until the bush just "
        "turns, and tape or screw the base down. Slide the carriage from stop to stop, pressed to one side, then to "
        "the other, so that the cutter always works against the feed; lift it only when the cutter stands still.",
        f"{plan.name}: cutter {plan.setting.cutter:.2f} mm; at full depth its tip stands {set_to:.2f} mm below the "
        f"router's base; {cutting.passes} passes, each {cutting.pass_depth:.2f} mm deeper, so begin at "
        f"{set_to - cutting.pass_depth * (cutting.passes - 1):.2f} mm.",
    ]
    if plan.tip.curvature != 0:
        side = "outer" if plan.tip.curvature > 0 else "inner"
        said.append(
            f"{plan.name}: the carriage bears on the {side} edges of its feet only; keep these sharp. On rails of "
            f"radius {abs(1 / plan.rail.curvature):.1f} mm the floor comes out with a radius of {plan.sled.radius:.1f} "
            f"mm, at most {plan.sled.off:.4f} mm off the planned curve."
        )
    return said
