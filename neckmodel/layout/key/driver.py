"""The room that a straight driver needs, turned about its own axis at an angle above the adjuster's axis.

Lengths mm, angles degrees. The driver's upper side stands `(k_c/2)/cos(alpha)` above its axis.
"""

from __future__ import annotations

import math

from neckmodel.layout.key.hexagon import largest_turn


def largest_driver_angle(
    axis: float, x_adjuster: float, nut_thickness: float, z_nut: float, corners: float, clearance: float
) -> float:
    """The steepest angle at which the driver still passes under the nut's edge on the head side, degrees; negative
    where it does not even pass level.

    Solves `-a_z + (x_adj + t_nut) tan(alpha) + (k_c/2)/cos(alpha) + c = z_nut`. axis: depth of the adjuster's axis;
    z_nut: height of that edge, mm.
    """
    return largest_turn(x_adjuster + nut_thickness, z_nut + axis - clearance, corners)


def head_relief(
    axis: float, x_adjuster: float, x_line: float, angle: float, head_angle: float, corners: float, clearance: float
) -> float:
    """How far behind the head line an angled head must be cut away for the driver, mm; 0 or less where it passes over.

    `(a_z + (k_c/2)/cos(alpha) + c - (x_adj - x_b) tan(alpha))/(tan(alpha) + tan(beta))`.
    """
    alpha, beta = math.radians(angle), math.radians(head_angle)
    above = axis + corners / 2 / math.cos(alpha) + clearance - (x_adjuster - x_line) * math.tan(alpha)
    return above / (math.tan(alpha) + math.tan(beta))
