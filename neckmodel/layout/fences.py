"""Setting a router up for one step: fence, stops, guide bush, and how wide the cut comes out. Lengths mm."""

from __future__ import annotations


def fence_offsets(edge: float, base: float, width: float, cutter: float) -> tuple[float, ...]:
    """Distance of the fence from the one reference edge, for each side of the step; one number if one line does.

    `edge distance of the centre line - half base -/+ (W - D)/2`; negative: the fence lies off the blank. edge: from the
    reference edge to the step's centre line; base: radius of the router's base.
    """
    middle, aside = edge - base, (width - cutter) / 2
    return (middle,) if aside <= 1e-6 else (middle - aside, middle + aside)


def stop_stations(x_start: float, x_end: float, base: float, cutter: float) -> tuple[float, float]:
    """x of the stop blocks that end a step's cut at both of its ends: the base's reach less the cutter's radius on."""
    reach = base - cutter / 2
    return x_start - reach, x_end + reach


def template_offset(bush: float, cutter: float) -> float:
    """How far a template's edge stands back from the cut under a guide bush: `(bush outside - cutter)/2`."""
    return (bush - cutter) / 2


def width_as_cut(cutter: float, runout: float, setting_error: float = 0.0) -> float:
    """Width of one line as it comes out: `true cutter + 2 x runout`, and two setting errors if cut from both edges."""
    return cutter + 2 * runout + 2 * setting_error
