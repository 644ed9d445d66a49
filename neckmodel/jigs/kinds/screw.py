"""A drilling guide for the heel's screws, dowels and inserts. It lies on the heel's bottom, its lip round the heel."""

from __future__ import annotations

from neckmodel.geometry.types import Point3
from neckmodel.jigs.kinds.guide import PLATE, Guide, Hole, findings, guide_solid
from neckmodel.jigs.shaping import placed
from neckmodel.jigs.types import AS_IT_STANDS, Bare, Draft, JigError, Label
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side
from neckmodel.solids.neck.outline import heel_path

PER_ARC = 17
CLEAR = 1.0  # mm by which the plate stays short of the joint


def refuse(layout: Layout) -> None:
    """Raises JigError where the heel has no screws, has a tenon, or has a screw on the head side of the joint."""
    if not layout.screws:
        raise JigError("screw-guide: no screws are stated for the heel; state heel.screws")
    if layout.heel.tenon is not None:
        raise JigError("screw-guide: the heel has a tenon, whose sides are not those that the guide would hug")
    low = min(screw.x for screw in layout.screws) - max(screw.hole for screw in layout.screws)
    if low < layout.heel.x_joint + CLEAR:
        raise JigError("screw-guide: a screw stands on the nut's side of the joint, where the heel is carved")


def draft(layout: Layout) -> Draft:
    """The guide as one piece."""
    guide = plan(layout)
    flat = guide_solid(guide, "screw guide")
    rows: tuple[Point3, Point3, Point3] = ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
    u0, u1 = min(u for u, _ in guide.outline), max(u for u, _ in guide.outline)
    inner = min(abs(h.v) - h.drill for h in guide.holes)
    label = Label(
        (Side.TREBLE, "up"),
        ((u0 + u1) / 2, 0.0, -layout.heel.depth - PLATE),
        (1.0, 0.0, 0.0),
        (0.0, -1.0, 0.0),
        u1 - u0 - 4.0,
        2 * inner,
    )
    piece = Bare(
        "heel",
        "on the heel's bottom, its lip round the heel's sides and end",
        placed(flat, rows, (0.0, 0.0, -layout.heel.depth)),
        AS_IT_STANDS,
        label,
    )
    depths = tuple(
        f"{s.name}: {s.hole:.2f} mm, {s.z_point - s.z_bottom:.1f} mm deep in the wood, "
        f"{s.z_point - s.z_bottom + PLATE:.1f} mm with the guide; set a stop on the drill."
        for s in layout.screws
    )
    return Draft((piece,), (), (lambda: findings(flat, guide, "jig-screw-guide-heel"),), depths)


def plan(layout: Layout) -> Guide:
    """The guide in the frame of the heel's bottom seen from below: u along x, v toward the bass side."""
    heel = layout.heel
    start = heel.x_joint + CLEAR
    path = [(float(x), float(y)) for x, y in heel_path(layout.outside).polyline(PER_ARC)]  # runs from treble to bass
    half = layout.outside.half_width(start)
    outline = [(start, -half), *((x, -y) for x, y in path if x > start), (start, half)]
    holes = tuple(Hole(s.name, s.x, -s.y, s.hole) for s in layout.screws)
    return Guide(tuple(outline), start + 1.0, -1, holes, layout.design.workshop.printer.fit_per_side)
