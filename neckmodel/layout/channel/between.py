"""The wood between the channels of two rods, and between them and a bar's. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.layout.channel.step import Step


@dataclass(frozen=True)
class Between:
    """The wood between two steps on lines of their own, in plan: how much, and the steps' names, the bass side's
    first. Negative where they run into each other."""

    wood: float
    bass: str
    treble: str


def neighbours(steps: Iterable[Step]) -> list[tuple[Step, Step]]:
    """Every two steps that lie on different lines, of which a rod of two has at least one, the bass side's first."""
    in_order = sorted(steps, key=lambda step: step.y)
    return [(a, b) for a, b in combinations(in_order, 2) if a.y < b.y and (a.rod or b.rod)]


def wood_between(bass: Step, treble: Step) -> Between:
    """The least wood between two steps, both of which are open to the glue plane, by their outlines in plan."""
    across = treble.y - bass.y - (bass.width + treble.width) / 2
    along = max(bass.x_start - treble.x_end, treble.x_start - bass.x_end, 0.0)
    return Between(across if along <= 0 else math.hypot(max(across, 0.0), along), bass.name, treble.name)


def least_between(steps: Iterable[Step]) -> Between | None:
    """The least wood between any two steps of `neighbours`; None where there are none."""
    found = (wood_between(*pair) for pair in neighbours(steps))
    return min(found, key=lambda one: one.wood, default=None)
