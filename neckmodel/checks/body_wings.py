"""body/wings: what is glued to the sides of a neck that runs through."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import change, graded
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.findings import Finding

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

BEYOND = 0.01  # mm of a wing past the neck that is no more than rounding


def check_wings(bench: Bench) -> list[Finding]:
    """How much of the wings' inner sides has no neck, or no inner wing, to be glued to; the largest of all."""
    wings = bench.layout.body_wings
    if not wings:
        return []
    worst = max(wings, key=lambda wing: wing.beyond)
    over, remedy = worst.beyond, None
    if over > BEYOND:
        says = f"{over:.2f} mm of {worst.name}'s inner side has nothing to be glued to"
        inmost = abs(worst.seam) == bench.layout.heel.half_width
        if inmost and worst.x_start >= bench.layout.heel.x_joint:
            key, end = "heel.wood_ends_at", worst.x_end
            remedy = graded(bench.design, lambda aim: change(bench.design, {key: aim.up(key, end)}))
    else:
        says = (
            f"{len(wings)} wings, each glued along all of its inner side, {min(w.glued for w in wings):.2f} mm or more"
        )
    z = (worst.z_low + worst.z_top) / 2
    return [
        Finding(
            "body/wings",
            worst.name,
            "warn" if over > BEYOND else "pass",
            says,
            over,
            SLACK,
            0.0,
            basis=COMMON,
            at=place(bench.layout, ((worst.x_start + worst.x_end) / 2, worst.seam, z)),
            remedy=remedy,
        )
    ]
