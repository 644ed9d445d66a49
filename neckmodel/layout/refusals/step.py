"""The wood under a stepped head's face at the head line, which holds the head."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import is_measured
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.refusals.measured import carved_already
from neckmodel.limits import LEAST_NECKING

if TYPE_CHECKING:
    from neckmodel.design import Design


CLOSE = 1e-6  # mm to which the highest step is found, before it is rounded


def wood_under_step(outside: Outside) -> float:
    """Wood under a stepped head's face at the head line, mm; inf for a head without a step."""
    head = outside.head
    return outside.carved(head.x_line) - head.drop if head.drop > 0 else math.inf


def holds_head(outside: Outside) -> bool:
    """Whether the wood under a stepped head's face is enough to hold the head."""
    return wood_under_step(outside) >= LEAST_NECKING


def most_drop(outside: Outside) -> float:
    """The highest step, rounded down to 0.01 mm, that leaves enough wood to hold the head; 0 if none does. The carve's
    transition into the head moves a little with the step."""
    most = nearest_enough(lambda drop: holds_head(_stepped(outside, drop)), outside.head.drop, 0.0, CLOSE)
    return math.floor(100 * (most or 0.0)) / 100


def _stepped(outside: Outside, drop: float) -> Outside:
    return replace(outside, head=replace(outside.head, drop=drop))


def step_cut(design: Design) -> bool:
    """Whether the wood under a stepped head's face can no longer be changed: the back is carved, or the step is
    sawn."""
    return carved_already(design) or is_measured(design, "head.drop")
