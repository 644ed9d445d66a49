"""The one way from a layout to a finished jig: drafted, mirrored for the left hand, labelled, placed on the beds."""

from __future__ import annotations

from dataclasses import replace

from neckmodel.geometry.types import Point3
from neckmodel.jigs.beds import Spot, lay_on_beds
from neckmodel.jigs.registry import kind_named
from neckmodel.jigs.shaping import engraved, shifted, turned
from neckmodel.jigs.types import Bare, Jig, Label, Pose, Printed
from neckmodel.layout import Layout
from neckmodel.solids.kernel.box import box
from neckmodel.solids.kernel.shapes import mirrored
from neckmodel.solids.parts import Part

# isort: split
import cadquery as cq

SIDEWAYS = 0.5  # of a normal's y, of faces on the bass or treble side
COLOUR = (0.35, 0.52, 0.60)
QUARTER_TURN = Pose(((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)))


def make_jig(layout: Layout, kind: str) -> Jig:
    """One kind of jig for one design.

    Raises JigError for a kind that does not exist, that this design has no use for, or that fits no bed; KernelError
    where the kernel fails.
    """
    chosen = kind_named(kind)
    chosen.refuse(layout)
    draft = chosen.draft(layout)
    nozzle = layout.design.workshop.printer.nozzle
    parts, turned_solids = [], []
    for piece in draft.pieces:
        bare = mirrored(piece.solid, f"mirroring {piece.name}") if layout.left_handed else piece.solid
        solid = engraved(bare, _label(layout, kind, piece), 2 * nozzle)
        part = Part(f"jig-{kind}-{piece.name}", solid, COLOUR, "jig")
        parts.append(part)
        turned_solids.append(turned(solid, piece.pose.mirrored if layout.left_handed else piece.pose))
    spots = lay_on_beds(
        [(p.name, *_size(s)) for p, s in zip(parts, turned_solids, strict=True)], layout.design.workshop.printer.bed
    )
    printed = tuple(
        Printed(replace(part, solid=_on_spot(solid, spots[part.name])), spots[part.name].bed, piece.says)
        for part, solid, piece in zip(parts, turned_solids, draft.pieces, strict=True)
    )
    return Jig(layout, kind, tuple(parts), printed, draft, draft.remarks)


def _label(layout: Layout, kind: str, piece: Bare) -> Label:
    """The label on the finished jig: the design, the kind, then the piece's own words.

    On the mirrored neck of a left hand it moves with its face, and still reads from left to right.
    """
    label, (x, y, z) = piece.label, piece.label.at
    words = (layout.name, kind, *label.words)
    right = label.right
    if layout.left_handed and abs(label.outward[1]) > SIDEWAYS:  # the mirrored face looks the other way
        right = (-right[0], right[1], -right[2])
    return replace(label, words=words, at=(x, layout.across(y), z), right=right)


def corner(solid: cq.Solid) -> tuple[Point3, Point3]:
    """Lowest and highest x, y, z of a solid, from its surfaces themselves, mm."""
    x0, y0, z0, x1, y1, z1 = box(solid)
    return (x0, y0, z0), (x1, y1, z1)


def _size(solid: cq.Solid) -> Point3:
    low, high = corner(solid)
    return high[0] - low[0], high[1] - low[1], high[2] - low[2]


def _on_spot(solid: cq.Solid, spot: Spot) -> cq.Solid:
    """The piece on its spot, its lowest face at z = 0."""
    quarter_turned = turned(solid, QUARTER_TURN) if spot.turned else solid
    low, _ = corner(quarter_turned)
    return shifted(quarter_turned, (spot.x - low[0], spot.y - low[1], -low[2]))
