"""Drawings that a design names: their shapes by layer, in mm. x runs along the centre line toward the body, y to the
treble side (upward in a drawing seen from the front)."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from pathlib import Path

from neckmodel.geometry.contour import FLATTEN, Contour
from neckmodel.layout.drawings.join import joined
from neckmodel.layout.drawings.shape import FARTHEST, LARGEST, SAVE_AGAIN, DrawingError, Shape, cleaned
from neckmodel.units import MM_PER

MOST_CORNERS = 4000  # of one outline


INCH = float(MM_PER["in"])


def looks_like_another_unit(size: float, low: float, high: float) -> str:
    """A hint where a size in mm outside its range would lie inside it in the other unit; empty where it would not."""
    if low <= size * INCH <= high:
        return (
            f". It looks like a drawing in inches that is read as mm (it would be {size * INCH:.2f} mm): set its unit"
        )
    if low <= size / INCH <= high:
        return (
            f". It looks like a drawing in mm that is read as inches (it would be {size / INCH:.2f} mm): set its unit"
        )
    return ""


@dataclass(frozen=True)
class Drawing:
    """All shapes of a file in their order. sha256: of the file's bytes."""

    name: str
    sha256: str
    shapes: tuple[Shape, ...]
    layers: tuple[str, ...] = field(default=())

    def on_layer(self, layer: str | None) -> tuple[Shape, ...]:
        """The shapes on a layer, open ones joined end to end where their ends touch."""
        found = joined([shape for shape in self.shapes if shape.on(layer)])
        if not found:
            there = ", ".join(f'"{name}"' for name in self.layers[:6]) or "none"
            where = "in it" if layer is None else f'on the layer "{layer}"'
            raise DrawingError(f"has no line {where}; its layers are: {there}")
        return found


def read_drawing(path: Path) -> Drawing:
    """The shapes of a DXF or SVG file. Raises DrawingError, with the reason, where the file cannot be read safely."""
    import hashlib

    data = _bytes_of(path)
    kind = path.suffix.lower()
    if kind == ".dxf":
        from neckmodel.layout.drawings.dxf import shapes_of
    elif kind == ".svg":
        from neckmodel.layout.drawings.svg import shapes_of
    else:
        raise DrawingError("is neither a .dxf nor an .svg file; save the drawing as one of them")
    shapes = tuple(shapes_of(data))
    for shape in shapes:
        if not all(math.isfinite(v) for corner in shape.corners for v in corner):
            raise DrawingError(f"holds an infinite number, or none where one should be; {SAVE_AGAIN}")
        if _reach(shape) > FARTHEST:
            raise DrawingError(f"reaches more than {FARTHEST:g} mm from its origin; is its unit right?")
    names = sorted({name for shape in shapes for name in shape.layers})
    return Drawing(path.name, hashlib.sha256(data).hexdigest(), shapes, tuple(names))


def _reach(shape: Shape) -> float:
    """How far from the origin a shape may reach, mm; an arc counts with its height over the chord."""
    corners = shape.corners
    far = max(max(abs(x), abs(y)) for x, y, _ in corners)
    ends = (*corners[1:], corners[0])
    return max(far, *(abs(a[2]) * math.dist(a[:2], b[:2]) / 2 for a, b in zip(corners, ends, strict=True)))


def _bytes_of(path: Path) -> bytes:
    try:
        if not path.is_file():
            raise DrawingError("there is no such file" if not path.exists() else "is not a file")
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        if isinstance(error, DrawingError):
            raise
        raise DrawingError("cannot be opened") from None
    if len(data) > LARGEST:
        raise DrawingError("is larger than 1 MiB: keep the outline and leave the rest out")
    if not data.strip():
        raise DrawingError("is empty")
    return data


def closed_contour(shape: Shape) -> Contour:
    """The shape as a contour, run anticlockwise. Raises DrawingError where it crosses itself or encloses nothing."""
    corners = cleaned(shape.corners, closed=True)
    if len(corners) > MOST_CORNERS:
        raise DrawingError(f"has an outline of {len(corners)} points; at most {MOST_CORNERS} are allowed")
    contour = Contour(corners)
    if len(corners) < 2 or len(contour.points) < 3 or abs(contour.area) < 1.0:
        raise DrawingError("has an outline that encloses nothing: it is flat, or far too small; is its unit right?")
    if len(contour.points) > 4 * MOST_CORNERS:
        raise DrawingError(f"has an outline with too many curves to follow within {FLATTEN} mm; is its unit right?")
    _refuse_crossing(contour)
    return contour.anticlockwise()


def _refuse_crossing(contour: Contour) -> None:
    from shapely.geometry import Polygon
    from shapely.validation import explain_validity

    polygon = Polygon(contour.points)
    if not polygon.is_valid:
        reason = explain_validity(polygon)
        where = reason.partition("[")[2].rstrip("]").split()
        at = f" at x {float(where[0]):.2f} mm, y {float(where[1]):.2f} mm" if len(where) == 2 else ""
        if reason.startswith("Ring"):
            raise DrawingError(f"has an outline that touches itself{at}; draw the two lines apart there")
        says = f"has an outline that crosses itself{at}, like a bow tie"
        raise DrawingError(f"{says}; are two of its corners in the wrong order? It must go round once")


def first_closed(drawing: Drawing, layer: str | None) -> Contour:
    """The first closed contour on the layer."""
    shapes = drawing.on_layer(layer)
    for shape in shapes:
        if shape.closed:
            return closed_contour(shape)
    nearest = min(shapes, key=lambda s: s.gap if len(s.corners) > 2 else math.inf)
    gap = f"; the ends of a line are {nearest.gap:.2f} mm apart" if len(nearest.corners) > 2 else ""
    raise DrawingError(f"has no closed outline there{gap}; draw it as one closed line, or let all ends meet")
