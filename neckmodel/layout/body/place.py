"""The body template: read from its drawing, placed by its own centre line and joint line. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.contour import Contour
from neckmodel.geometry.types import Floats
from neckmodel.layout.drawings.drawing import Drawing, closed_contour, first_closed, looks_like_another_unit
from neckmodel.layout.drawings.named import drawing_of, refusing
from neckmodel.layout.drawings.shape import DrawingError, Shape
from neckmodel.layout.rod.bounds import is_soundhole
from neckmodel.layout.sides import side_at

if TYPE_CHECKING:
    from neckmodel.design import Design

# Layers of a template's drawing, besides the one that holds its outline
CENTRE_LINE, JOINT_LINE, CUT_OUTS = "centre line", "joint line", "cut-outs"
LEAST_LENGTH, MOST_LENGTH = 100.0, 1500.0  # mm, of a body
LEAST_LINE = 5.0  # mm; a shorter centre line or joint line says nothing of its direction
MOST_SKEW = 10.0  # degrees between the joint line and the square on the centre line; more is another drawing
WORTH_SAYING = 0.01  # degrees of skew


@dataclass(frozen=True)
class CutOut:
    """A hole in the body, from x to x, mm, that the neck's wood may not reach. source: "stated", "drawing", or
    "soundhole", also where that is stated or drawn once more."""

    x_from: float
    x_to: float
    source: str


@dataclass(frozen=True)
class BodyPlace:
    """The body in the neck's frame. outline: (n, 2) points x, y of the template, mm; None where none is drawn.

    skew: degrees by which the template's joint line is off square to its centre line. A neck set square against the
    joint then points off the body's centre line by `off_at_bridge`, mm, at the bridge (positive to the treble side).
    holes: outlines of all drawn cut-outs. sha256: of the drawing.
    """

    outline: Floats | None
    cut_outs: tuple[CutOut, ...]
    holes: tuple[Floats, ...] = ()
    skew: float = 0.0
    off_at_bridge: float = 0.0
    sha256: str | None = None

    @property
    def x_back(self) -> float:
        """x at which the first cut-out begins, mm; inf where there is none. The wood of a bolted or glued neck must end
        before it."""
        return min((hole.x_from for hole in self.cut_outs), default=math.inf)


def place_body(design: Design, x_joint: float, x_bridge: float, half_width: float) -> BodyPlace:
    """The body's cut-outs, and its template where the design names one.

    half_width: of the neck's wood at its end, mm; a drawn hole that reaches into it is a cut-out in the way. The
    template is turned and moved, never mirrored: its centre line comes to lie on y = 0, its joint line crosses that at
    x_joint, and most of its outline lies beyond the joint.
    """
    cutouts = [c for c in design.body.cutouts if not is_soundhole(design, c.from_, c.to)]
    stated = tuple(CutOut(c.from_, c.to, "stated") for c in cutouts)
    if (hole := design.body.soundhole) is not None:
        stated = (*stated, CutOut(hole.from_, hole.to, "soundhole"))
    named = design.body.outline
    if named is None:
        return BodyPlace(None, stated)
    drawing = drawing_of(design, "body.outline", named)
    with refusing(design, "body.outline"):
        outline = first_closed(drawing, named.layer)
        centre, joint = _line(drawing, CENTRE_LINE), _line(drawing, JOINT_LINE)
        crossing = _crossing(centre, joint)
        along = _toward(centre, outline, crossing)
        length = float(np.ptp((outline.points - crossing) @ along))
        if not LEAST_LENGTH <= length <= MOST_LENGTH:
            unit = looks_like_another_unit(length, LEAST_LENGTH, MOST_LENGTH)
            says = f"has a body {length:.2f} mm long; allowed are {LEAST_LENGTH:g} to {MOST_LENGTH:g} mm{unit}"
            raise DrawingError(says)
        skew = _skew(along, joint)

        def placed(points: Floats) -> Floats:
            off = points - crossing
            across = np.array([-along[1], along[0]])
            return np.column_stack([x_joint + off @ along, off @ across])

        holes = tuple(placed(hole.points) for hole in _holes(drawing))
        found = [_in_the_way(hole, half_width) for hole in holes]
        drawn = [one for one in found if one is not None and one.x_to > x_joint]
        drawn = [one for one in drawn if not is_soundhole(design, one.x_from, one.x_to)]
        return BodyPlace(
            placed(outline.points),
            (*stated, *sorted(drawn, key=lambda one: one.x_from)),
            holes,
            skew,
            (x_bridge - x_joint) * math.tan(math.radians(skew)),
            drawing.sha256,
        )


def _line(drawing: Drawing, layer: str) -> Floats:
    """(2, 2) the two ends of the first line on a layer, mm."""
    shape = drawing.on_layer(layer)[0]
    ends = np.array([shape.corners[0][:2], shape.corners[-1][:2]])
    if shape.closed or float(np.linalg.norm(ends[1] - ends[0])) < LEAST_LINE or not _is_straight(shape):
        raise DrawingError(f'must have one straight line of at least {LEAST_LINE:g} mm on the layer "{layer}"')
    return ends


def _is_straight(shape: Shape) -> bool:
    points = np.array([corner[:2] for corner in shape.corners])
    along = (points[-1] - points[0]) / np.linalg.norm(points[-1] - points[0])
    off = (points - points[0]) @ np.array([-along[1], along[0]])
    return bool(np.abs(off).max() < 0.02 and all(abs(corner[2]) < 1e-6 for corner in shape.corners[:-1]))


def _crossing(one: Floats, two: Floats) -> Floats:
    """Where two lines cross, extended if need be."""
    u, v = one[1] - one[0], two[1] - two[0]
    cross = float(u[0] * v[1] - u[1] * v[0])
    if abs(cross) < 1e-6 * float(np.linalg.norm(u) * np.linalg.norm(v)):
        raise DrawingError("has a joint line that does not cross its centre line")
    off = two[0] - one[0]
    at: Floats = one[0] + u * float(off[0] * v[1] - off[1] * v[0]) / cross
    return at


def _toward(centre: Floats, outline: Contour, crossing: Floats) -> Floats:
    """Unit vector along the centre line from the joint toward most of the body."""
    along = (centre[1] - centre[0]) / np.linalg.norm(centre[1] - centre[0])
    p = outline.points
    q = np.roll(p, -1, axis=0)
    cross = p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]
    middle = ((p + q) * cross[:, None]).sum(axis=0) / (3 * cross.sum())
    found: Floats = along if float((middle - crossing) @ along) >= 0 else -along
    return found


def _skew(along: Floats, joint: Floats) -> float:
    """Degrees from the square on the centre line to the joint line, positive where the square on the joint points to
    the treble side."""
    across = joint[1] - joint[0]
    square = np.array([across[1], -across[0]])
    if float(square @ along) < 0:
        square = -square
    skew = math.degrees(math.atan2(float(along[0] * square[1] - along[1] * square[0]), float(square @ along)))
    if abs(skew) > MOST_SKEW:
        raise DrawingError(f"has a joint line {abs(skew):.2f} degrees off square; allowed are {MOST_SKEW:g}")
    return skew


def _holes(drawing: Drawing) -> tuple[Contour, ...]:
    """The closed contours on the layer of cut-outs."""
    if CUT_OUTS not in drawing.layers:
        return ()
    shapes = drawing.on_layer(CUT_OUTS)
    if any(not shape.closed for shape in shapes):
        raise DrawingError(f'has a line on the layer "{CUT_OUTS}" that is not closed')
    return tuple(closed_contour(shape) for shape in shapes)


def _in_the_way(hole: Floats, half_width: float) -> CutOut | None:
    """The range of x in which a hole reaches into |y| < half_width, or None."""
    from shapely.geometry import Polygon, box

    low, high = float(hole[:, 0].min()), float(hole[:, 0].max())
    common = Polygon(hole).intersection(box(low - 1.0, -half_width, high + 1.0, half_width))
    if common.area < 1e-6:
        return None
    x_from, _, x_to, _ = common.bounds
    return CutOut(float(x_from), float(x_to), "drawing")


def with_drawn_cutouts(design: Design, body: BodyPlace) -> Design:
    """The design with the drawn cut-outs added to the stated ones, so that every later step finds all of them in one
    place."""
    drawn = [one for one in body.cut_outs if one.source == "drawing"]
    if not drawn:
        return design
    from neckmodel.design import Cutout

    assert design.sha256  # computed before the copy and kept in it: the hash is of what the file states
    cutouts = tuple(Cutout.model_construct(from_=one.x_from, to=one.x_to) for one in drawn)
    more = design.body.model_copy(update={"cutouts": (*design.body.cutouts, *cutouts)})
    return design.model_copy(update={"body": more})


def body_remarks(body: BodyPlace) -> tuple[str, ...]:
    """A remark on a template whose joint line is not square to its centre line; none where it is square."""
    if abs(body.skew) < WORTH_SAYING:
        return ()
    side = side_at(body.off_at_bridge)
    return (
        f"the template's joint line is {abs(body.skew):.2f} degrees off square: a neck set square against it points "
        f"{abs(body.off_at_bridge):.2f} mm to the {side} side of the body's centre line at the bridge",
    )
