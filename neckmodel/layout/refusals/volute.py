"""Volutes that cannot be carved."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.layout.neck.outside import LEAST_STOCK, Outside
from neckmodel.layout.refusals.head import LEAST_COVE, LEAST_HEAD, runs_out
from neckmodel.layout.wood.blank import VOLUTE_PLACES, head_side
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design


def refuse_volute(design: Design, outside: Outside) -> None:
    """Raises DesignError where a volute reaches fret 1, or begins before the carve has come out of the head's back."""
    volute, back = outside.head.volute, outside.back
    if volute is None:
        return
    if volute.x_end > back.x_1:
        most = math.floor(200 * (back.x_1 - volute.x_middle)) / 100
        raise design.problem("head.volute.length", "reaches past fret 1", f"at most {no_more(most)}")
    if volute.x_start < outside.head.x_swell or not _sound_volute(outside):
        least = _least_swell(outside)
        raise design.problem(
            "head.swell_length",
            "is too short for the volute: the carve must come out of the head's back before the volute begins",
            f"at least {no_less(least)} with this volute" if least is not None else "",
            "a longer swell, or a shorter or lower volute",
        )


def _sound_volute(outside: Outside) -> bool:
    """Whether the carve leaves the head's flat back beside the volute, and has wood to take away all along it."""
    if outside.x_head_stock == outside.head.x_swell:
        return False
    points = head_side(outside, MOST_THIN)
    for (x0, z0), (x1, z1) in itertools.pairwise(points):
        for k in range(VOLUTE_PLACES):
            x = x0 + (x1 - x0) * k / VOLUTE_PLACES
            if -(z0 + (z1 - z0) * k / VOLUTE_PLACES) - outside.carved(x) < LEAST_STOCK - 1e-6:
                return False
    return True


MOST_THIN = 0.5  # mm, an allowance at the back to try a volute with: less is refused or made more


MOST_SWELL = 120.0  # mm


def _least_swell(outside: Outside) -> float | None:
    """The least swell, in whole millimetres, with which the volute can be carved; None if there is none."""
    first = math.ceil(max(outside.head.swell, -outside.head.x_line + LEAST_COVE))
    for swell in range(first, int(min(MOST_SWELL, -outside.head.x_far - LEAST_HEAD)) + 1):
        tried = replace(outside, head=replace(outside.head, swell=float(swell)))
        volute = outside.head.volute
        if volute is not None and volute.x_start >= tried.head.x_swell and runs_out(tried) and _sound_volute(tried):
            return float(swell)
    return None
