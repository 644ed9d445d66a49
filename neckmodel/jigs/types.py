"""The types from which a jig is made. No kernel here: solids are only named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.errors import NeckmodelError
from neckmodel.geometry.types import Point3

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.findings import Finding
    from neckmodel.layout import Layout
    from neckmodel.solids.parts import Part


class JigError(NeckmodelError, ValueError):
    """The kind of jig does not exist, or this design has no use for it; the text says why."""


@dataclass(frozen=True)
class Pose:
    """How a piece is turned from its place on the neck to lie on the printer's bed: the rows of a rotation matrix."""

    rows: tuple[Point3, Point3, Point3]

    def turn(self, at: Point3) -> Point3:
        """A point or direction, turned."""
        x, y, z = (sum(a * b for a, b in zip(row, at, strict=True)) for row in self.rows)
        return x, y, z

    def back(self, at: Point3) -> Point3:
        """A direction on the bed, turned back."""
        x, y, z = (sum(self.rows[k][i] * at[k] for k in range(3)) for i in range(3))
        return x, y, z

    def after(self, other: Pose) -> Pose:
        """This turn after another one."""
        a, b, c = zip(*other.rows, strict=True)
        columns = [self.turn(column) for column in (a, b, c)]
        x, y, z = zip(*columns, strict=True)
        return Pose((x, y, z))

    @property
    def undone(self) -> Pose:
        """The opposite turn."""
        a, b, c = zip(*self.rows, strict=True)
        return Pose((a, b, c))

    @property
    def mirrored(self) -> Pose:
        """The pose for the mirror image of a piece (y -> -y): it lies on the same face, seen in a mirror."""
        a, b, c = ((x, -y, z) for x, y, z in self.rows)
        return Pose((a, (-b[0], -b[1], -b[2]), c))


AS_IT_STANDS = Pose(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
UPSIDE_DOWN = Pose(((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)))
ON_ITS_SIDE = Pose(((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))
"""A plate that stands square to x lies on its head side, y to the right."""
ON_ITS_BASS_SIDE = Pose(((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)))
ON_ITS_TREBLE_SIDE = Pose(((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)))


@dataclass(frozen=True)
class Label:
    """Words cut into a plane face, in place on the neck.

    at: middle of their room, on the face. right, up: unit vectors along the writing and toward its top; their cross
    product points out of the face. width, height: of the room, mm.
    """

    words: tuple[str, ...]
    at: Point3
    right: Point3
    up: Point3
    width: float
    height: float

    @property
    def outward(self) -> Point3:
        """Unit vector out of the face."""
        (a, b, c), (d, e, f) = self.right, self.up
        return b * f - c * e, c * d - a * f, a * e - b * d


@dataclass(frozen=True)
class Bare:
    """A piece before it is labelled and, for a left-handed neck, mirrored; in place on the neck.

    name: behind `jig-<kind>-`. says: what it is for.
    """

    name: str
    says: str
    solid: cq.Solid
    pose: Pose
    label: Label


@dataclass(frozen=True)
class Whole:
    """A whole that was split. solid: before the split; pieces: the names of its pieces; clearance: volume that the
    joints' fit takes, mm3, by its closed form."""

    name: str
    solid: cq.Solid
    pieces: tuple[str, ...]
    clearance: float


@dataclass(frozen=True)
class Draft:
    """What a kind returns: bare pieces, the wholes that were split, checks that only this kind has, remarks for the
    maker."""

    pieces: tuple[Bare, ...]
    wholes: tuple[Whole, ...] = ()
    checks: tuple[Callable[[], list[Finding]], ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Printed:
    """A piece as it lies on a bed. part: in the bed's frame, corner at (0, 0, 0). bed: counted from 1."""

    part: Part
    bed: int
    says: str


@dataclass(frozen=True)
class Jig:
    """A finished jig. parts: in place on the neck, put together. printed: the same, each as it lies on its bed. draft:
    the right-handed pieces without labels, which the checks measure."""

    layout: Layout
    kind: str
    parts: tuple[Part, ...]
    printed: tuple[Printed, ...]
    draft: Draft
    remarks: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The design's name."""
        return self.layout.name

    @property
    def beds(self) -> int:
        """How many beds it takes."""
        return max(piece.bed for piece in self.printed)
