"""Setting a router up for one step: fence, stops, guide bush, and how wide the cut comes out. Lengths mm."""

from __future__ import annotations


def line_centres(edge: float, width: float, cutter: float, lines: int) -> tuple[float, ...]:
    """Distance of the cutter's middle from the reference edge for each line, evenly over a width, the nearest to the
    edge first: `edge -/+ (W - D)/2`, mm. edge: from the reference edge to the step's centre line."""
    if lines == 1:
        return (edge,)
    first = edge - (width - cutter) / 2
    return tuple(first + (width - cutter) * k / (lines - 1) for k in range(lines))


def template_offset(bush: float, cutter: float) -> float:
    """How far a template's edge stands back from the cut under a guide bush: `(bush outside - cutter)/2`."""
    return (bush - cutter) / 2


def width_as_cut(cutter: float, runout: float, setting_error: float = 0.0) -> float:
    """Width of one line as it comes out, mm: `true cutter + 2 x runout`, and two setting errors more if it is cut from
    both edges."""
    return cutter + 2 * runout + 2 * setting_error
