"""A drilling guide for the tuners' holes. It lies on the head's face, between a lip round the finished outline."""

from __future__ import annotations

import math

import numpy as np

from neckmodel.geometry.types import Point, Point3
from neckmodel.jigs.kinds.guide import LIP, PLATE, Guide, Hole, findings, guide_solid
from neckmodel.jigs.shaping import placed
from neckmodel.jigs.split import REACH, Joint, clearance, joint_places, split
from neckmodel.jigs.types import Bare, Draft, JigError, Label, Pose, Whole
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side
from neckmodel.solids.neck.outline import head_path

PILOT = 3.0  # mm, drill for the first hole; the tuner's own hole follows it. Common practice, no source
SAMPLES = 25  # of the outline between the head line and the end of the neck's swell
PER_ARC = 17


def refuse(layout: Layout) -> None:
    """Raises JigError where no tuners are stated, where they are bored from the sides, and where there is no head."""
    if layout.slots is not None:
        raise JigError("tuner-guide: the tuners of a head with slots are bored from its sides; make the roller-guide")
    if layout.head.is_none:
        raise JigError("tuner-guide: the neck has no head, and no tuners are drilled in it")
    if not layout.tuners:
        raise JigError("tuner-guide: no tuners are stated; state head.tuners")


def draft(layout: Layout) -> Draft:
    """The guide, in pieces where the bed requires it."""
    guide, fit = plan(layout), layout.design.workshop.printer.fit_per_side
    whole = guide_solid(guide, "tuner guide")
    (u0, _), (u1, _) = min(guide.outline), max(guide.outline)
    bed = layout.design.workshop.printer.bed
    avoid = [(h.u - PILOT - 2.0, h.u + PILOT + 2.0) for h in guide.holes]
    places = joint_places(u0 - fit - LIP, u1, max(bed[0], bed[1]), avoid)
    joints = tuple(Joint(u, (0.0,)) for u in places)
    rows, at = _to_place(layout)
    pose = _upside_down(layout)
    cuts = split(whole, joints, fit, "tuner guide")
    pieces = tuple(
        Bare(
            one.name,
            "on the head's face, its straight end at the head line",
            placed(one.solid, rows, at),
            pose,
            _label(layout, guide, joints, one.number - 1),
        )
        for one in cuts
    )
    wholes = (
        Whole(
            "whole",
            placed(whole, rows, at),
            tuple(p.name for p in pieces),
            clearance(whole, joints, fit, "joints' fit"),
        ),
    )
    return Draft(
        pieces,
        wholes if joints else (),
        (lambda: findings(whole, guide, "jig-tuner-guide"),),
        (
            f"Drill {PILOT:.1f} mm pilot holes through it from the head's face, with a scrap board under the exit.",
            _open_up(layout),
        ),
    )


def _open_up(layout: Layout) -> str:
    """The sizes to which the pilot holes are drilled."""
    of: dict[float, list[str]] = {}
    for tuner in layout.tuners:
        of.setdefault(tuner.hole, []).append(tuner.name.replace("-", " "))
    if len(of) == 1:
        return f"Then drill every hole to {next(iter(of)):.2f} mm."
    sizes = "; ".join(f"{', '.join(names)} to {hole:.2f} mm" for hole, names in of.items())
    return f"Then drill the holes to size: {sizes}."


def plan(layout: Layout) -> Guide:
    """The guide in the face's frame: u along the face from the head line, negative toward the far end."""
    head, outside = layout.head, layout.outside
    turn = math.cos(math.radians(head.angle))
    fit = layout.design.workshop.printer.fit_per_side
    end = -fit if head.drop > 0 else 0.0  # a stepped head has a wall there

    def along(x: float) -> float:
        return (x - head.x_line) / turn

    xs = np.linspace(head.x_swell, head.x_line, SAMPLES)[1:].tolist()
    treble, bass = (
        [(min(along(x), end), outside.middle(x) + side * outside.half_width(x)) for x in xs] for side in (1, -1)
    )
    far = [(along(float(x)), float(y)) for x, y in head_path(outside).polyline(PER_ARC)]
    outline = [*far, *treble, *bass[::-1]]
    holes = tuple(Hole(t.name, along(t.on_face[0]), t.on_face[1], min(PILOT, t.hole)) for t in layout.tuners)
    return Guide(tuple(outline), along(head.x_swell), 1, holes, fit, math.tan(math.radians(head.angle)))


def _to_place(layout: Layout) -> tuple[tuple[Point3, Point3, Point3], Point3]:
    """From the face's frame to the neck's."""
    turn = math.radians(layout.head.angle)
    c, s = math.cos(turn), math.sin(turn)
    return ((c, 0.0, -s), (0.0, 1.0, 0.0), (s, 0.0, c)), (layout.head.x_line, 0.0, -layout.head.drop)


def _upside_down(layout: Layout) -> Pose:
    """Back into the face's frame, then turned over about u, so that the plate's upper face lies on the bed."""
    turn = math.radians(layout.head.angle)
    c, s = math.cos(turn), math.sin(turn)
    return Pose(((c, 0.0, s), (0.0, -1.0, 0.0), (s, 0.0, -c)))


def _label(layout: Layout, guide: Guide, joints: tuple[Joint, ...], k: int) -> Label:
    """The label between the rows of holes or beside them: on the widest strip along the piece without a hole."""
    u0, u1 = min(u for u, _ in guide.outline), max(u for u, _ in guide.outline)
    ends = [u0, *(joint.x for joint in joints), u1 - 6.0]
    start, end = ends[k] + (REACH + 2.0 if k else 0.0), ends[k + 1]
    low, high = _widest_strip(guide, (start, end))
    rows, at = _to_place(layout)
    middle = ((start + end) / 2, (low + high) / 2, PLATE)
    x, y, z = (sum(a * b for a, b in zip(row, middle, strict=True)) + o for row, o in zip(rows, at, strict=True))
    right = (rows[0][0], 0.0, rows[2][0])
    words = (f"{k + 1}/{len(joints) + 1}", Side.TREBLE, "up") if joints else (Side.TREBLE, "up")
    return Label(words, (x, y, z), right, (0.0, 1.0, 0.0), end - start, high - low)


def _widest_strip(guide: Guide, between: Point) -> Point:
    half = min(abs(v) for u, v in guide.outline if between[0] <= u <= between[1] and abs(v) > 10.0)
    taken = sorted((h.v - h.drill, h.v + h.drill) for h in guide.holes if between[0] - 3 < h.u < between[1] + 3)
    edges = [-half, *(v for pair in taken for v in pair), half]
    strips = [(max(edges[: 2 * k + 1]), edges[2 * k + 1]) for k in range(len(taken) + 1)]
    return max(strips, key=lambda strip: strip[1] - strip[0])
