"""Heads into whose back the carve cannot run out."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import is_measured
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.layout.neck.outside import LEAST_STEP, Outside
from neckmodel.layout.refusals.measured import carve_to, carved_already
from neckmodel.layout.refusals.step import holds_head, most_drop, step_cut, wood_under_step
from neckmodel.lengths import no_less, no_more
from neckmodel.limits import LEAST_NECKING

if TYPE_CHECKING:
    from neckmodel.design import Design

LEAST_DEPTH = 3.0  # of wood under the fretboard along the shaft
LEAST_SHAFT = 1.0  # of shaft between fret 1 and the heel's swell, and between the sawn ramps
LEAST_HEAD = 10.0  # of head beyond its swell
LEAST_END = 1.0  # of a nut end beyond its swell
SAME = 1e-6  # widths that differ by less are the same
LEAST_COVE = 2.0  # of the head's side between the head line and the end of the swell
LEAST_BUILT = 0.5  # of the same where it is carved or sawn already, for then a check reports it


def refuse_head(design: Design, outside: Outside) -> None:
    """Raises DesignError for a head that does not fit the shaft, naming the key and the least change that helps."""
    head = outside.head
    if head.is_none:
        refuse_nut_end(design, outside)
        return
    if head.x_swell > head.x_line - LEAST_COVE:
        raise design.problem(
            "head.swell_length", "the swell ends before the head line", f"at least {no_less(LEAST_COVE - head.x_line)}"
        )
    if head.x_swell < head.x_far + LEAST_HEAD:
        raise design.problem(
            "head.swell_length", "the swell is longer than the head", f"at most {no_more(-head.x_far - LEAST_HEAD)}"
        )
    under = wood_under_step(outside)
    if under < (LEAST_BUILT if step_cut(design) else LEAST_NECKING):
        most, cut, carve = most_drop(outside), is_measured(design, "head.drop"), ""
        if cut:
            carve = carve_to(design, outside, holds_head, thinner=False)
        thicker = "a lower step" if carved_already(design) else "a lower step or a thicker neck"
        raise design.problem(
            "head.drop",
            f"leaves {max(under, 0.0):.2f} mm of wood under the step to hold the head",
            f"at most {no_more(most)}, for {LEAST_NECKING:g} mm of wood" if most > 0 and not carve else "",
            carve if cut else thicker,
        )
    plain = replace(outside, head=replace(head, volute=None))
    if not runs_out(plain):
        least, cut = least_thickness(plain), is_measured(design, "head.thickness")
        ways = "a thicker head, a longer head.swell_length"
        carve = carve_to(design, plain, runs_out, thinner=True) if cut else ""
        raise design.problem(
            "head.thickness",
            "the head's back does not lie deep enough below the neck's back for the carve to run out into it",
            f"at least {no_less(least)} with this angle, drop and swell"
            if least < MOST_THICKNESS and not carve
            else "",
            carve or (ways if carved_already(design) else f"{ways}, or a thinner neck"),
        )


def refuse_nut_end(design: Design, outside: Outside) -> None:
    """Raises DesignError for a nut end that is narrower or thinner than the shaft, or shorter than its swell."""
    head, back = outside.head, outside.back
    if head.x_swell < head.x_far + LEAST_END:
        most = no_more(-head.x_far - LEAST_END)
        raise design.problem("head.swell_length", "the swell is longer than the nut end", f"at most {most}")
    wide = 2 * outside.reach(0.0)  # the farther side counts, where a string that starts later narrows the other
    if head.near < wide - SAME:
        raise design.problem(
            "head.end.width", f"is narrower than the neck at the nut, {wide:.2f} mm", f"at least {no_less(wide)}"
        )
    if not runs_out(outside):
        least = least_thickness(outside)
        raise design.problem(
            "head.end.thickness",
            f"the nut end's under side does not lie deep enough below the neck's back, {back.depth(0.0):.2f} mm at the "
            "nut, for the carve to run out into it",
            f"at least {no_less(least)} with this swell" if least < MOST_THICKNESS else "",
            "a thicker nut end" + ("" if carved_already(design) else " or a thinner neck"),
        )


def runs_out(outside: Outside) -> bool:
    """Whether the carve has wood to take away, and crosses the head's back within the swell."""
    back, head = outside.back, outside.head
    if outside.flat_depth(head.x_swell) - back.depth(head.x_swell) < LEAST_STEP:
        return False
    if head.angle == 0 and -head.back(0.0) - back.depth(0.0) < LEAST_STEP:
        return False
    return outside.x_head_stock != head.x_swell


CLOSE = 0.004  # mm to which the least thickness is found, before it is rounded
MOST_THICKNESS = 60.0  # mm of head; nobody saws a thicker one


def least_thickness(outside: Outside) -> float:
    """The least thickness of head, rounded up to 0.01 mm, with which the carve runs out; MOST_THICKNESS if none
    does."""

    def good(thickness: float) -> bool:
        return runs_out(replace(outside, head=replace(outside.head, thickness=thickness)))

    least = nearest_enough(good, outside.head.thickness, MOST_THICKNESS, CLOSE) or MOST_THICKNESS
    return math.ceil(least * 100) / 100
