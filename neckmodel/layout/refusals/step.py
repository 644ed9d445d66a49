"""What holds a stepped head: the wood under its face at the head line."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import is_measured
from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.refusals.measured import carved_already

if TYPE_CHECKING:
    from neckmodel.design import Design


LEAST_NECKING = 3.0  # of wood under a stepped head's face at the head line: what holds the head


def wood_under_step(outside: Outside) -> float:
    """Wood under a stepped head's face at the head line, which holds the head, mm; inf where there is no step."""
    head = outside.head
    return outside.carved(head.x_line) - head.drop if head.drop > 0 else math.inf


def holds_head(outside: Outside) -> bool:
    return wood_under_step(outside) >= LEAST_NECKING


def most_drop(outside: Outside) -> float:
    """The highest step, rounded down to 0.01 mm, that leaves wood enough to hold the head; 0 if none does. The carve's
    transition into the head follows the step a little."""
    low, high = 0.0, outside.head.drop
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if holds_head(_stepped(outside, middle)) else (low, middle)
    return math.floor(100 * low) / 100


def _stepped(outside: Outside, drop: float) -> Outside:
    return replace(outside, head=replace(outside.head, drop=drop))


def step_cut(design: Design) -> bool:
    """Whether the wood under a stepped head's face is what it is: carved from behind, or the step sawn."""
    return carved_already(design) or is_measured(design, "head.drop")
