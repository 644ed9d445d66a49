"""Drawings that a design names: their shapes by layer, in mm, x along the centre line toward the body, y to the treble
side (upward in a drawing seen from the front)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from neckmodel.geometry.contour import Contour, Corner
from neckmodel.units import MM_PER

LARGEST = 1 << 20  # bytes
FARTHEST = 5000.0  # mm from the origin; no drawing of a neck or body reaches there
MOST_CORNERS = 4000  # of one outline
TOUCH = 0.02  # mm, ends nearer to each other are joined
SAME = 2e-3  # mm, corners nearer to each other are one


INCH = float(MM_PER["in"])
SAVE_AGAIN = "save it again in the program that you drew it with"


def looks_like_another_unit(size: float, low: float, high: float) -> str:
    """What to suspect of a size in mm outside its range that would lie in it in the other unit; "" if nothing."""
    if low <= size * INCH <= high:
        return (
            f". It looks like a drawing in inches that is read as mm (it would be {size * INCH:.2f} mm): set its unit"
        )
    if low <= size / INCH <= high:
        return (
            f". It looks like a drawing in mm that is read as inches (it would be {size / INCH:.2f} mm): set its unit"
        )
    return ""


class DrawingError(ValueError):
    """Why a drawing cannot be used; its text goes into the message about the key that names it."""


@dataclass(frozen=True)
class Shape:
    """One line of a drawing. corners as in `Contour`, of an open line the last one's bulge means nothing.

    layers: every name that it lies on (an SVG group may lie in others).
    """

    layers: frozenset[str]
    corners: tuple[Corner, ...]
    closed: bool

    def on(self, layer: str | None) -> bool:
        return layer is None or layer in self.layers

    @property
    def gap(self) -> float:
        return math.dist(self.corners[0][:2], self.corners[-1][:2])


@dataclass(frozen=True)
class Drawing:
    """All shapes of a file in its order. sha256 of its bytes."""

    name: str
    sha256: str
    shapes: tuple[Shape, ...]
    layers: tuple[str, ...] = field(default=())

    def on_layer(self, layer: str | None) -> tuple[Shape, ...]:
        """The shapes on a layer, open ones joined end to end where their ends touch."""
        found = _joined([shape for shape in self.shapes if shape.on(layer)])
        if not found:
            there = ", ".join(f'"{name}"' for name in self.layers[:6]) or "none"
            where = "in it" if layer is None else f'on the layer "{layer}"'
            raise DrawingError(f"has no line {where}; its layers are: {there}")
        return found


def read_drawing(path: Path) -> Drawing:
    """The shapes of a DXF or SVG file. Raises DrawingError, with the reason, for whatever cannot be read safely."""
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
            raise DrawingError(f"holds a number without end, or none where one should be; {SAVE_AGAIN}")
        if _reach(shape) > FARTHEST:
            raise DrawingError(f"reaches more than {FARTHEST:g} mm from its origin; is its unit right?")
    names = sorted({name for shape in shapes for name in shape.layers})
    return Drawing(path.name, hashlib.sha256(data).hexdigest(), shapes, tuple(names))


def _reach(shape: Shape) -> float:
    """How far from the origin a shape may lie, arcs by their height over the chord, mm."""
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


def cleaned(corners: Iterable[Corner], closed: bool) -> tuple[Corner, ...]:
    """Without corners that repeat the one before."""
    kept: list[Corner] = []
    for corner in corners:
        if kept and math.dist(kept[-1][:2], corner[:2]) <= SAME:
            kept[-1] = (kept[-1][0], kept[-1][1], corner[2])
        else:
            kept.append(corner)
    if closed and len(kept) > 1 and math.dist(kept[0][:2], kept[-1][:2]) <= SAME:
        kept.pop()
    return tuple(kept)


def reversed_line(corners: Sequence[Corner]) -> tuple[Corner, ...]:
    """An open line run the other way."""
    last = len(corners) - 1
    return tuple((corners[k][0], corners[k][1], -corners[k - 1][2] if k else 0.0) for k in range(last, -1, -1))


def _joined(shapes: list[Shape]) -> tuple[Shape, ...]:
    """Open lines whose ends touch made into one, each at the place of its first; a chain that comes round is closed."""
    done: list[Shape] = []
    ends = _Ends(shapes)
    for k, shape in enumerate(shapes):
        if shape.closed:
            done.append(shape)
        elif ends.take(k):
            line = list(shape.corners)
            while not _comes_round(line) and (found := ends.next_after(line[-1])) is not None:
                line = [*line[:-1], *found]
            closes = _comes_round(line)
            done.append(Shape(shape.layers, tuple(line[:-1] if closes else line), closes))
    return tuple(done)


def _comes_round(line: list[Corner]) -> bool:
    return len(line) >= 3 and math.dist(line[0][:2], line[-1][:2]) <= TOUCH


class _Ends:
    """Both ends of every open line, found by their place."""

    def __init__(self, shapes: list[Shape]) -> None:
        self._shapes = shapes
        self._free = {k for k, shape in enumerate(shapes) if not shape.closed}
        self._at: dict[tuple[int, int], list[int]] = {}
        for k in sorted(self._free):
            for x, y, _ in (shapes[k].corners[0], shapes[k].corners[-1]):
                self._at.setdefault(_cell(x, y), []).append(k)

    def take(self, k: int) -> bool:
        """Whether the line is still free; it no longer is."""
        free = k in self._free
        self._free.discard(k)
        return free

    def next_after(self, end: Corner) -> tuple[Corner, ...] | None:
        """The first free line that starts or ends there, run from there."""
        i, j = _cell(*end[:2])
        near = {k for di in (-1, 0, 1) for dj in (-1, 0, 1) for k in self._at.get((i + di, j + dj), ())}
        for k in sorted(near & self._free):
            corners = self._shapes[k].corners
            if math.dist(end[:2], corners[0][:2]) <= TOUCH:
                self._free.discard(k)
                return corners
            if math.dist(end[:2], corners[-1][:2]) <= TOUCH:
                self._free.discard(k)
                return reversed_line(corners)
        return None


def _cell(x: float, y: float) -> tuple[int, int]:
    return math.floor(x / TOUCH), math.floor(y / TOUCH)


def closed_contour(shape: Shape) -> Contour:
    """The outline as a sound contour, run anticlockwise; DrawingError where it crosses itself or encloses nothing."""
    corners = cleaned(shape.corners, closed=True)
    if len(corners) > MOST_CORNERS:
        raise DrawingError(f"has an outline of {len(corners)} points; at most {MOST_CORNERS} are allowed")
    contour = Contour(corners)
    if len(corners) < 2 or len(contour.points) < 3 or abs(contour.area) < 1.0:
        raise DrawingError("has an outline that encloses nothing: it is flat, or far too small; is its unit right?")
    if len(contour.points) > 4 * MOST_CORNERS:
        raise DrawingError("has an outline with too many curves to follow within 0.01 mm; is its unit right?")
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
