"""The wood that a dovetail keeps at its root, where the rod's channel may run through it. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain

if TYPE_CHECKING:
    from collections.abc import Iterable

    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.heel.dovetail import Dovetail

AT = 1e-6  # mm


@dataclass(frozen=True)
class RootWood:
    """Wood of a dovetail in its section at the root: how much, where, and how far below the glue plane, mm. step: the
    step of the channel that it lies beside; None at the dovetail's bottom."""

    wood: float
    depth: float
    step: str | None

    @property
    def where(self) -> str:
        """The place in words."""
        return "half its width at the bottom" if self.step is None else f"beside the {plain(self.step)}, at its floor"


def steps_at_root(tenon: Dovetail, steps: Iterable[Step]) -> list[tuple[Step, float]]:
    """The steps that run through the root, each with the depth of its floor there, no deeper than the dovetail."""
    through = (step for step in steps if step.x_start < tenon.x_root - AT and step.x_end > tenon.x_root + AT)
    return [(step, min(step.depth_at(tenon.x_root), tenon.depth)) for step in through]


def root_wood(tenon: Dovetail, steps: Iterable[Step]) -> RootWood:
    """The least of half the width at the root's bottom and of the wood either side of each step at its floor."""
    found = [RootWood(tenon.half_at(tenon.x_root, tenon.depth), tenon.depth, None)]
    for step, depth in steps_at_root(tenon, steps):
        beside = tenon.half_at(tenon.x_root, depth) - abs(step.y) - step.width / 2
        found.append(RootWood(beside, depth, step.name))
    return min(found, key=lambda one: one.wood)
