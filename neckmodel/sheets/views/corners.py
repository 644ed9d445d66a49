"""The wood that a round cutter leaves in the corners of a step's ends, drawn large for the chisel."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import End
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.layers import CORNERS, TEXT, of_step
from neckmodel.sheets.marks.lettering import LETTERS
from neckmodel.sheets.marks.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.layout.workshop.router import RouterSetting

SCALE = 2.0  # corners are drawn at twice their size
SHOWN = 14.0  # mm of the step shown from its end

Place = Callable[[float, float], Point]


def corners_height(setting: RouterSetting) -> float:
    """Height of the drawing of the corners on the page, mm."""
    return setting.step.width * SCALE + 18.0


def draw_corners(sketch: Sketch, setting: RouterSetting, unit: str, at: Point) -> None:
    """Draws each such end at twice its size, from (left, top)."""
    step, radius = setting.step, setting.cutter / 2
    shown = min(SHOWN, step.x_end - step.x_start)
    left = at[0] + 6.0
    half = step.width / 2
    middle = at[1] - 5.0 - half * SCALE
    for corner in setting.cutting.corners_at:
        inward, x_end = 1.0 if corner.end == End.START else -1.0, corner.x
        place = _placed(left if corner.end == End.START else left + shown * SCALE, middle, x_end)

        x_in = x_end + inward * shown
        corners = [place(x_end, -half), place(x_in, -half), place(x_in, half), place(x_end, half)]
        sketch.add(rounded_path(of_step(step.name), [(corner, 0.0) for corner in corners]))
        reach = min(radius, half)
        entering = min(corner.entering / 2, half)
        for side in (-1.0, 1.0):
            sketch.add(_left_over(place, (x_end, side * half), inward, -side, reach, entering))
        words = f"{corner.end} of the step, x {with_unit(x_end, unit)}, scale 2:1"
        sketch.text(TEXT, (left, middle - half * SCALE - 5.0), words, LETTERS)
        stay = f"the dark corners stay: radius {with_unit(radius, unit)}"
        if corner.deep_from > 0:
            stay += f", below {with_unit(corner.deep_from, unit)}"
        sketch.text(TEXT, (left, middle - half * SCALE - 8.4), stay, LETTERS)
        left += max(shown * SCALE + 12.0, 74.0)


def _placed(left: float, middle: float, x_end: float) -> Place:
    """The page's point for a point of the step, its end standing at `left`."""
    return lambda x, y: (left + (x - x_end) * SCALE, middle + y * SCALE)


def _left_over(place: Place, corner: Point, inward: float, across: float, radius: float, entering: float) -> Path:
    """The wood between a corner and the cutter's arc, less what a step of half width `entering` takes away. inward,
    across: 1 or -1, toward the step's inside."""
    x, y = corner
    clean = min(abs(y) - entering, radius)  # of the end wall that is left beside an entering step
    # the cutter's centre stands a radius from both walls; its arc leaves the side wall and meets the end wall, or the
    # line along which the entering step has cut
    turned = math.acos((radius - clean) / radius)
    along = radius - math.sqrt(max(radius * radius - (radius - clean) ** 2, 0.0))
    points = [place(x, y), place(x + inward * radius, y), place(x + inward * along, y + across * clean)]
    bulges = [0.0, -inward * across * math.tan(turned / 4), 0.0]
    if along > 0:
        points.append(place(x, y + across * clean))
        bulges.append(0.0)
    return Path(CORNERS, tuple(points), tuple(bulges), True, True)
