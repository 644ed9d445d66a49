"""What cannot be laid out, each refused with the key to change: shapes that would not run out into each other."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import is_measured
from neckmodel.layout.neck.outside import LEAST_STEP, LEAST_STOCK, Outside
from neckmodel.layout.refusals.measured import carve_to, carved_already, naming_measured
from neckmodel.layout.wood.blank import VOLUTE_PLACES, head_side, shaft_ramps
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design

# Least sizes for a shape that can be built, mm; common practice, no source
LEAST_END = 1.0  # of straight side between the joint and the heel's corners, and of end between the corners
LEAST_DEPTH = 3.0  # of wood under the fretboard along the shaft
LEAST_HALF = 8.0  # of half width along the shaft
LEAST_SIDE = 4.0  # from the deepest line of a leaning back to the nearer edge
LEAST_SHAFT = 1.0  # of shaft between fret 1 and the heel's swell, and between the sawn ramps
LEAST_HEAD = 10.0  # of head beyond its swell
LEAST_COVE = 2.0  # of the head's side between the head line and the end of the swell
LEAST_NECKING = 3.0  # of wood under a stepped head's face at the head line: what holds the head
LEAST_BUILT = 0.5  # of the same, where it is carved or sawn already and can be told of as it is


@naming_measured
def refuse_outside(design: Design, outside: Outside) -> None:
    """Raises DesignError where head, shaft and heel do not fit each other."""
    _refuse_shaft(design, outside)
    _refuse_heel(design, outside)
    _refuse_tenon(design, outside)
    _refuse_head(design, outside)
    _refuse_volute(design, outside)
    head_ramp, heel_ramp = shaft_ramps(outside, design.allowance.back)
    if heel_ramp[0] - head_ramp[0] < LEAST_SHAFT:
        raise design.problem(
            "heel.depth", "head and heel are so deep that the sawn ramps between them meet", "a shallower heel or head"
        )


def _refuse_shaft(design: Design, outside: Outside) -> None:
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


def _refuse_heel(design: Design, outside: Outside) -> None:
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
        raise design.problem(
            "heel.width",
            "is less than the neck's width at the joint",
            f'at least {no_less(2 * back.half_width(heel.x_joint))}, or "follow-fretboard"',
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
    """By how much the heel's bottom lies below the carved neck, mm."""
    return outside.heel.depth - max(outside.back.depth(outside.heel.x_joint), outside.back.depth(outside.heel.x_swell))


def _refuse_tenon(design: Design, outside: Outside) -> None:
    heel, tenon = outside.heel, outside.heel.tenon
    if tenon is None:
        return
    wide = outside.half_width(heel.x_joint)
    if tenon.half_width > wide + 1e-6:
        raise design.problem("heel.tenon.width", "is more than the heel's", f"at most {no_more(2 * wide)}")
    if tenon.depth > heel.depth + 1e-6:
        raise design.problem("heel.tenon.depth", "is more than the heel's", f"at most {no_more(heel.depth)}")


def _refuse_volute(design: Design, outside: Outside) -> None:
    """The volute must end before fret 1, and the carve must have come out of the head's back before it begins."""
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
    """Whether the carve leaves the head's flat back beside the volute, and has wood to take all along it."""
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
    """The least swell, in whole millimetres, at which the volute can be carved; None if there is none."""
    first = math.ceil(max(outside.head.swell, -outside.head.x_line + LEAST_COVE))
    for swell in range(first, int(min(MOST_SWELL, -outside.head.x_far - LEAST_HEAD)) + 1):
        tried = replace(outside, head=replace(outside.head, swell=float(swell)))
        volute = outside.head.volute
        if volute is not None and volute.x_start >= tried.head.x_swell and runs_out(tried) and _sound_volute(tried):
            return float(swell)
    return None


def _refuse_head(design: Design, outside: Outside) -> None:
    head = outside.head
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


def runs_out(outside: Outside) -> bool:
    """Whether the carve has wood to take away and crosses the head's back within the swell."""
    back, head = outside.back, outside.head
    if outside.flat_depth(head.x_swell) - back.depth(head.x_swell) < LEAST_STEP:
        return False
    if head.angle == 0 and -head.back(0.0) - back.depth(0.0) < LEAST_STEP:
        return False
    return outside.x_head_stock != head.x_swell


MOST_THICKNESS = 60.0  # mm of head, more than anybody would saw


def least_thickness(outside: Outside) -> float:
    """The least thickness of head, rounded up to 0.01 mm, at which the carve runs out; MOST_THICKNESS if none does."""
    low, high = outside.head.thickness, MOST_THICKNESS
    while high - low > 0.004:
        middle = (low + high) / 2
        if runs_out(replace(outside, head=replace(outside.head, thickness=middle))):
            high = middle
        else:
            low = middle
    return math.ceil(high * 100) / 100
