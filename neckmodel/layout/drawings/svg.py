"""The lines of an SVG file, in mm: path, line, polyline, polygon, rect, circle and ellipse (SVG 1.1 and 2).

The XML is read without entities and without anything from outside the file. The drawing's origin is that of its user
space. SVG counts y downward; here y counts upward.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

import numpy as np

from neckmodel.geometry.contour import FLATTEN, Corner
from neckmodel.layout.drawings.shape import FARTHEST, SAVE_AGAIN, DrawingError, Shape
from neckmodel.units import MM_PER_INCH

SVG = "{http://www.w3.org/2000/svg}"
# CSS absolute lengths (CSS Values and Units, section 6.2) in mm
UNITS = {
    **dict.fromkeys(("", "px"), MM_PER_INCH / 96),
    "mm": 1.0,
    "cm": 10.0,
    "q": 0.25,
    "in": MM_PER_INCH,
    "pt": MM_PER_INCH / 72,
    "pc": MM_PER_INCH / 6,
}
DRAWN = ("path", "line", "polyline", "polygon", "rect", "circle", "ellipse")
NOT_DRAWN = ("defs", "symbol", "clipPath", "mask", "marker", "pattern", "svg")
DEEPEST, MOST_ELEMENTS, LONGEST_PATH, MOST_POINTS = 64, 20_000, 200_000, 16_000
ROUND = 1e-6  # relative; axes of an arc that agree this well make it circular


def shapes_of(data: bytes) -> Iterator[Shape]:
    """Every line of the file in its order."""
    root = _parsed(data)
    scale = _scale(root)
    from svgelements import Matrix

    waiting: list[tuple[Any, Any, frozenset[str], int]] = [(root, Matrix(), frozenset(), 0)]
    seen = 0
    while waiting:
        element, matrix, layers, depth = waiting.pop()
        seen += 1
        if depth > DEEPEST or seen > MOST_ELEMENTS:
            raise DrawingError("is nested too deep" if depth > DEEPEST else "holds too many elements")
        kind = element.tag.removeprefix(SVG) if isinstance(element.tag, str) else ""
        if kind in NOT_DRAWN and depth > 0:
            continue
        names = {v.strip() for k, v in element.attrib.items() if k.rpartition("}")[2] in ("id", "label")}
        layers = layers | {name for name in names if name}
        try:
            here = Matrix(element.get("transform")) * matrix if element.get("transform") else matrix
            shapes = list(_shapes(element, kind, here, layers, scale)) if kind in DRAWN else []
        except (ValueError, TypeError, IndexError, KeyError, AttributeError, ArithmeticError, RecursionError) as error:
            if isinstance(error, DrawingError):
                raise
            raise DrawingError(f"holds a {kind or 'part'} that cannot be read; {SAVE_AGAIN}") from None
        yield from shapes
        waiting += [(child, here, layers, depth + 1) for child in reversed(list(element))]


def _parsed(data: bytes) -> Any:
    from xml.etree.ElementTree import ParseError

    from defusedxml import DefusedXmlException
    from defusedxml.ElementTree import fromstring

    try:
        root = fromstring(data, forbid_entities=True, forbid_external=True)
    except DefusedXmlException:
        raise DrawingError("calls for things from outside the file, which are not read; save it as plain SVG") from None
    except (ParseError, ValueError, LookupError) as error:
        at = " ".join(str(error).split())[:80]
        raise DrawingError(f"is not a whole, sound SVG file ({at}); {SAVE_AGAIN}") from None
    if root.tag not in (SVG + "svg", "svg"):
        raise DrawingError("is an XML file but not an SVG drawing")
    return root


def _size(text: str | None) -> float | None:
    """A CSS length in mm; None where it is missing or relative to something."""
    found = re.fullmatch(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z]*|%)\s*", text or "")
    if found is None or found[2] == "%":
        return None
    if found[2].lower() not in UNITS:
        raise DrawingError(f'states its size in "{found[2]}"; mm, cm, in, pt, pc and px are known')
    return float(found[1]) * UNITS[found[2].lower()]


def _scale(root: Any) -> float:
    """mm for one unit of the user space, from width and height against the viewBox; the smaller where they differ."""
    sizes = [_size(root.get(name)) for name in ("width", "height")]
    numbers = re.split(r"[\s,]+", (root.get("viewBox") or "").strip())
    try:
        box = [float(number) for number in numbers] if numbers != [""] else []
    except ValueError:
        box = [math.nan]
    if not box:
        return UNITS["px"]
    if len(box) != 4 or not all(math.isfinite(v) for v in box) or min(box[2:]) <= 0:
        raise DrawingError("has a viewBox that is not four numbers with a width and a height")
    scales = [size / side for size, side in zip(sizes, box[2:], strict=True) if size is not None]
    if any(not (math.isfinite(s) and s > 0) for s in scales):
        raise DrawingError("has a width or height of 0")
    return min(scales, default=UNITS["px"])


def _shapes(element: Any, kind: str, matrix: Any, layers: frozenset[str], scale: float) -> Iterator[Shape]:
    import svgelements

    if kind == "path":
        text = element.get("d") or ""
        if len(text) > LONGEST_PATH:
            raise DrawingError("has a path with too many points")
        path = svgelements.Path(text)
    else:
        values = {k: v for k, v in element.attrib.items() if "}" not in k and k not in ("id", "transform", "style")}
        if len(values.get("points", "")) > LONGEST_PATH:
            raise DrawingError("has a path with too many points")
        name = {"line": "SimpleLine"}.get(kind, kind.capitalize())
        path = svgelements.Path(getattr(svgelements, name)(values))
    path = abs(path * matrix)
    corners: list[Corner] = []
    for segment in path:
        word = type(segment).__name__
        if word == "Move":
            if len(corners) > 1:
                yield _shape(layers, corners, False, scale)
            corners = [(*_xy(segment.end), 0.0)]
        elif word == "Close":
            if len(corners) > 1:
                yield _shape(layers, corners, True, scale)
            corners = [(*_xy(segment.end), 0.0)] if segment.end is not None else []
        else:
            corners = [*corners[:-1], *_along(segment, word, scale)]
            if len(corners) > MOST_POINTS:
                raise DrawingError("has a path with too many points")
    if len(corners) > 1:
        yield _shape(layers, corners, False, scale)


def _shape(layers: frozenset[str], corners: list[Corner], closed: bool, scale: float) -> Shape:
    """The line in mm, y turned upward and arcs with it."""
    if len(corners) > 2 and math.dist(corners[0][:2], corners[-1][:2]) * scale <= FLATTEN:
        corners, closed = corners[:-1], True
    return Shape(layers, tuple((x * scale, -y * scale, -bulge) for x, y, bulge in corners), closed)


def _xy(point: Any) -> tuple[float, float]:
    return float(point.x), float(point.y)


def _along(segment: Any, word: str, scale: float) -> list[Corner]:
    """The corners of one segment from its start to its end; curves as chords within FLATTEN, round arcs as arcs."""
    start, end = _xy(segment.start), _xy(segment.end)
    if word == "Line":
        return [(*start, 0.0), (*end, 0.0)]
    if word == "Arc":
        a, b, sweep = float(segment.rx), float(segment.ry), float(segment.sweep)
        _refuse_far([a, b, *start, *end], scale)
        if abs(a - b) <= ROUND * max(a, b) and abs(sweep) < 2 * math.pi - 1e-6:
            middle = _xy(segment.point(0.5))
            half = math.tan(sweep / 8)
            return [(*start, half), (*middle, half), (*end, 0.0)]
        count = math.ceil(abs(sweep) / (2 * math.sqrt(2 * FLATTEN / scale / max(a, b, FLATTEN / scale)))) + 1
        points = [_xy(segment.point(k / count)) for k in range(count + 1)]
    else:
        controls = [start, *(_xy(getattr(segment, name)) for name in _CONTROLS[word]), end]
        _refuse_far([v for point in controls for v in point], scale)
        points = _curve(np.array(controls), FLATTEN / scale)
    return [(x, y, 0.0) for x, y in points]


_CONTROLS = {"QuadraticBezier": ("control",), "CubicBezier": ("control1", "control2")}


def _refuse_far(numbers: list[float], scale: float) -> None:
    if not all(math.isfinite(v) and abs(v) * scale <= FARTHEST for v in numbers):
        raise DrawingError(f"reaches more than {FARTHEST:g} mm from its origin; is its unit right?")


def _curve(controls: np.ndarray, deviation: float) -> list[tuple[float, float]]:
    """Points on a Bezier curve whose chords lie within the deviation: `n**2 >= max |second derivative| / 8 / deviation`
    (the error of linear interpolation)."""
    degree = len(controls) - 1
    bend = degree * (degree - 1) * float(np.linalg.norm(np.diff(controls, 2, axis=0), axis=1).max())
    count = max(math.ceil(math.sqrt(bend / 8 / deviation)), 1)
    t = np.linspace(0.0, 1.0, count + 1)[:, None]
    terms = [math.comb(degree, k) * t**k * (1 - t) ** (degree - k) * controls[k] for k in range(degree + 1)]
    return [(float(x), float(y)) for x, y in np.sum(terms, axis=0)]
