"""The body's top over what lies in the neck's line beyond the joint. Lengths mm, in the neck's frame."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.strings.action import plan_action

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.strings.frets import Frets


@dataclass(frozen=True)
class Top:
    """A plane top, as thick as the back. z: of its upper side at the joint; angle: degrees by which the neck stands
    back from the body: its axis then comes nearer to the top toward the body. body: over all, at the neck."""

    x_joint: float
    z: float
    thickness: float
    angle: float
    body: float

    def over(self, x: float) -> float:
        """z of the upper side at x: `top - (x - x_joint) tan(phi)`."""
        return self.z - (x - self.x_joint) * math.tan(math.radians(self.angle))

    def under(self, x: float) -> float:
        """z of the under side at x."""
        return self.over(x) - self.thickness

    def back(self, x: float) -> float:
        """z of the back's inner side at x; the back is taken to be as thick as the top (common practice, no source)."""
        return self.under(x) - (self.body - 2 * self.thickness)


def place_top(design: Design, frets: Frets) -> Top:
    """The neck's angle is 0 where no height of the bridge is stated."""
    body, angle = design.body, plan_action(design, frets).angle
    joint = frets.x(design.neck.joint_fret)
    return Top(joint, body.top, body.top_thickness, angle or 0.0, body.thickness)
