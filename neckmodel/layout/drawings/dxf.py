"""The lines of a DXF file, in mm: LINE, ARC, CIRCLE, ELLIPSE, SPLINE, LWPOLYLINE and POLYLINE of the model space."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from typing import Any

from neckmodel.geometry.contour import FLATTEN, Corner
from neckmodel.layout.drawings.join import TOUCH
from neckmodel.layout.drawings.shape import FARTHEST, SAVE_AGAIN, DrawingError, Shape
from neckmodel.units import INCH, MM_PER_INCH

# $INSUNITS of the DXF reference (header variables) to mm
UNITS = {1: MM_PER_INCH, 2: float(12 * INCH), 4: 1.0, 5: 10.0, 6: 1000.0, 9: float(INCH / 1000), 13: 0.001, 14: 100.0}
MOST_ENTITIES = 20_000
LONGEST_IN_INCHES = 36.0  # units; a neck with its body is no longer in inches, and a head is longer in mm
BINARY = b"Binary DXF\r\n\x1a\0"
"""The first 22 bytes of a binary DXF file end so: DXF reference, "Binary DXF files"."""


def shapes_of(data: bytes) -> Iterator[Shape]:
    """Every line of the model space in the file's order. Blocks and layouts are left out."""
    import ezdxf
    from ezdxf.lldxf.const import DXFError

    if BINARY in data[:22]:
        raise DrawingError("is a binary DXF file; save it as a DXF in text (ASCII)")
    try:
        text = data.decode("utf-8", errors="surrogateescape")
        document = ezdxf.read(io.StringIO(text.replace("\r\n", "\n")))  # type: ignore[attr-defined]
        # for a file without a header the library invents one in metres
        unit = int(document.header.get("$INSUNITS", 0)) if "$INSUNITS" in text else 0
        entities = list(document.modelspace())
    except (DXFError, ValueError, KeyError, IndexError, TypeError, AttributeError, ArithmeticError, EOFError) as error:
        del error  # its text describes the library's internals
        raise DrawingError(
            f"is not a whole, sound DXF file: damaged, cut off, or of another kind; {SAVE_AGAIN}"
        ) from None
    if unit not in UNITS:
        says = f"is in a unit that no neck is drawn in ($INSUNITS {unit})" if unit else "does not say what its unit is"
        raise DrawingError(f"{says}{_by_size(entities)}")
    if len(entities) > MOST_ENTITIES:
        raise DrawingError(f"holds {len(entities)} entities; keep the outline and leave the rest out")
    scale = UNITS[unit]
    for entity in entities:
        try:
            shape = _shape(entity, scale)
        except (DXFError, ValueError, KeyError, IndexError, TypeError, AttributeError, ArithmeticError) as error:
            if isinstance(error, DrawingError):
                raise
            raise DrawingError(f"holds a {entity.dxftype()} that cannot be read; {SAVE_AGAIN}") from None
        if shape is not None:
            yield shape


def _by_size(entities: list[Any]) -> str:
    """The unit that a drawing without a stated unit probably has, judged by its length."""
    numbers = []
    try:
        for entity in entities[:MOST_ENTITIES]:
            found = _shape(entity, 1.0)
            numbers += [] if found is None else [x for x, _, _ in found.corners]
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, ArithmeticError):
        numbers = []
    ask = "; set its unit ($INSUNITS) to millimetres or inches and save it again"
    length = max(numbers) - min(numbers) if numbers else 0.0
    if not 0 < length < FARTHEST:
        return ask
    return (
        f"{ask}: {length:.4g} units long, it is likely in {'inches' if length < LONGEST_IN_INCHES else 'millimetres'}"
    )


def _shape(entity: Any, scale: float) -> Shape | None:
    kind, layers = entity.dxftype(), frozenset((str(entity.dxf.get("layer", "0")),))
    if kind == "LINE":
        return _open(layers, [(*_at(entity.dxf.start), 0.0), (*_at(entity.dxf.end), 0.0)], scale)
    if kind == "ARC":
        turn = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360 or 360)
        if turn >= 2 * math.pi - 1e-9:
            return _circle(layers, entity, scale)
        bulge = math.tan(turn / 4) * _facing(entity)
        return _open(layers, [(*_at(entity.start_point), bulge), (*_at(entity.end_point), 0.0)], scale)
    if kind == "CIRCLE":
        return _circle(layers, entity, scale)
    if kind == "LWPOLYLINE":
        bulges = [float(p[4]) * _facing(entity) for p in entity]
        corners = [(*_at(p), b) for p, b in zip(entity.vertices_in_wcs(), bulges, strict=True)]
        return _line(layers, corners, bool(entity.closed), scale)
    if kind == "POLYLINE" and entity.is_2d_polyline:
        bulges = [float(v.dxf.get("bulge", 0.0)) * _facing(entity) for v in entity.vertices]
        corners = [(*_at(p), b) for p, b in zip(entity.points_in_wcs(), bulges, strict=True)]
        return _line(layers, corners, bool(entity.is_closed), scale)
    if kind in ("SPLINE", "ELLIPSE"):
        _refuse_far(entity, scale)
        points = [(*_at(p), 0.0) for p in entity.flattening(FLATTEN / scale)]
        closed = len(points) > 2 and math.dist(points[0][:2], points[-1][:2]) * scale <= TOUCH
        return _line(layers, points[:-1] if closed else points, closed, scale)
    return None


def _at(point: Any) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _facing(entity: Any) -> float:
    """-1 where the entity is drawn on the back of the plane: its arcs run the other way."""
    return -1.0 if float(entity.dxf.get("extrusion", (0, 0, 1))[2]) < 0 else 1.0


def _refuse_far(entity: Any, scale: float) -> None:
    """Raises DrawingError for a shape kilometres long, before its curve is followed within 0.01 mm."""
    if entity.dxftype() == "SPLINE":
        points = [*entity.control_points, *entity.fit_points]
    else:
        points = [entity.dxf.center, entity.dxf.major_axis]
    numbers = [abs(float(v)) for point in points for v in (point[0], point[1])]
    if not all(math.isfinite(v) and v * scale <= FARTHEST for v in numbers):
        raise DrawingError(f"reaches more than {FARTHEST:g} mm from its origin; is its unit right?")


def _circle(layers: frozenset[str], entity: Any, scale: float) -> Shape:
    centre, radius = entity.ocs().to_wcs(entity.dxf.center), float(entity.dxf.radius)
    (x, y), bulge = _at(centre), _facing(entity)
    return _line(layers, [(x - radius, y, bulge), (x + radius, y, bulge)], True, scale)


def _open(layers: frozenset[str], corners: list[Corner], scale: float) -> Shape:
    return _line(layers, corners, False, scale)


def _line(layers: frozenset[str], corners: list[Corner], closed: bool, scale: float) -> Shape:
    if len(corners) > 2 and not closed and math.dist(corners[0][:2], corners[-1][:2]) * scale <= TOUCH:
        corners, closed = corners[:-1], True
    return Shape(layers, tuple((x * scale, y * scale, bulge) for x, y, bulge in corners), closed)
