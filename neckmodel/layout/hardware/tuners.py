"""Tuners: where their holes, posts and housings lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point3
from neckmodel.layout.neck.outside import Head

if TYPE_CHECKING:
    from neckmodel.design import Design

# Sizes taken where the design states none; common practice, no source. mm
POST_OF_HOLE = 0.6  # a tuner's post against its hole
POST_HEIGHT = 22.0  # of a post over the head's face
HOUSING_HEIGHT = 12.0  # of a housing under the head's back


@dataclass(frozen=True)
class TunerPlace:
    """One tuner: centre of its hole on the head's face, the direction of its axis (out of the face), sizes in mm.

    string_height: over the face, where its string leaves the post; tree: a string tree on the string's way, by its
    place along the face and the height of the string's underside over it."""

    name: str
    on_face: Point3
    axis: Point3
    hole: float
    housing_length: float
    housing_width: float
    head_thickness: float
    string_height: float
    tree: tuple[float, float] | None = None


LEAST_RIM = 0.05  # mm; where a hole touches the outline, the solid would hold together in a line only


def place_tuners(design: Design, head: Head) -> tuple[TunerPlace, ...]:
    """Every tuner of the design on the head, as listed."""
    turn = math.radians(head.angle)
    axis = (-math.sin(turn), 0.0, math.cos(turn))
    placed = []
    for k, tuner in enumerate(design.head.posts):
        rim = head.rim(tuner.x, tuner.y) - tuner.hole / 2
        if abs(rim) < LEAST_RIM:
            says = "has a hole that just touches the head's outline, which leaves wood of no thickness"
            raise design.problem(f"head.tuners.{k}", says, "", f"move it by {LEAST_RIM:g} mm, or more inward")
        x, z = head.on_face(tuner.x)
        placed.append(
            TunerPlace(
                name=f"tuner-{k + 1}",
                on_face=(x, tuner.y, z),
                axis=axis,
                hole=tuner.hole,
                housing_length=tuner.housing.length,
                housing_width=tuner.housing.width,
                head_thickness=head.thickness,
                string_height=tuner.string_height,
                tree=None if tuner.tree is None else (tuner.tree.x, tuner.tree.height),
            )
        )
    return tuple(placed)
