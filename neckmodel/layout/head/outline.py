"""A head outline read from a drawing: placed, and compared with the neck that it must join."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.design import OutlineFile
from neckmodel.geometry.contour import Contour, Corner
from neckmodel.layout.drawings.drawing import first_closed, looks_like_another_unit
from neckmodel.layout.drawings.join import reversed_line
from neckmodel.layout.drawings.named import drawing_of, refusing
from neckmodel.layout.drawings.shape import DrawingError

if TYPE_CHECKING:
    from neckmodel.design import Design

JOIN = 20.0  # mm, a side wider than the other reaches its own line within this; common practice, no source
LEAST_LENGTH, MOST_LENGTH, MOST_WIDTH = 40.0, 400.0, 400.0  # mm, of a head
EVEN = 0.02  # mm, sides closer than this to the same width are even
LEAST_HALF = 8.0  # mm, of half width where the head begins
HEAD = "head.outline"


def head_contour(design: Design, outline: OutlineFile, angle: float) -> tuple[Contour, float, float]:
    """(outline in plan beyond the neck's swell, length along the face, width where the swell ends), mm.

    In the drawing x runs along the face from the head line, negative toward the far end, y to the treble side. Only the
    part beyond the swell is used. Where its two sides are not equally wide there, a cove within JOIN leads to the wider
    one. angle: of the face, degrees.
    """
    drawing = drawing_of(design, HEAD, outline)
    with refusing(design, HEAD):
        flat = first_closed(drawing, outline.layer)
        _refuse_size(flat)
        turn, x_swell = math.cos(math.radians(angle)), -design.head.swell_length
        contour = flat.stretched(turn, design.head.starts_at)
        chain, near = _beyond(contour, x_swell)
        finished = Contour(chain)
        length = (design.head.starts_at - finished.x_range[0]) / turn
        return finished, length, 2 * near


def _refuse_size(flat: Contour) -> None:
    length, width = -flat.x_range[0], flat.y_range[1] - flat.y_range[0]
    if not flat.y_range[0] < 0 < flat.y_range[1]:
        raise DrawingError("has its outline on one side of the centre line, which is y = 0 of the drawing")
    if length <= 0:
        raise DrawingError(
            "lies on the wrong side of the head line, which is x = 0 of the drawing: the head's far end has negative x"
        )
    if not LEAST_LENGTH <= length <= MOST_LENGTH:
        raise DrawingError(
            f"reaches {length:.2f} mm from the head line (x = 0 of the drawing, the far end negative); "
            f"allowed are {LEAST_LENGTH:g} to {MOST_LENGTH:g} mm"
            f"{looks_like_another_unit(length, LEAST_LENGTH, MOST_LENGTH)}"
        )
    if width > MOST_WIDTH:
        unit = looks_like_another_unit(width, LEAST_LENGTH, MOST_WIDTH / 2)
        raise DrawingError(f"is {width:.2f} mm wide; allowed is at most {MOST_WIDTH:g} mm{unit}")


def _beyond(contour: Contour, x_swell: float) -> tuple[tuple[Corner, ...], float]:
    """(the finished outline from the treble side at the swell's end, round the far end, to the bass side; the half
    width at which it begins, mm)."""
    ys = contour.crossings(x_swell)
    if len(ys) != 2 or not ys[0] < 0 < ys[1]:
        found = f"there the outline has {len(ys)} lines"
        if not ys:
            found = "the outline does not reach there"
        elif len(ys) == 2:
            found = "both lie on the same side there"
        raise DrawingError(
            f"does not fit the neck: at x {x_swell:.2f} mm, where the neck's swell ends, it needs one line on each "
            f"side of the centre line, and {found}"
        )
    chain = _cut(contour, x_swell)
    treble, bass = chain[0][1], -chain[-1][1]
    near = min(treble, bass)
    if near < LEAST_HALF:
        unit = looks_like_another_unit(near, LEAST_HALF, 60.0)
        raise DrawingError(
            f"is only {near:.2f} mm from the centre line where the head begins, at x {x_swell:.2f} mm; "
            f"at least {LEAST_HALF:g} mm are needed{unit}"
        )
    if treble - near > EVEN:
        chain = _joined(chain, x_swell, near)
    if bass - near > EVEN:
        chain = _mirrored(_joined(_mirrored(chain), x_swell, near))
    first, last = chain[0], chain[-1]
    return ((x_swell, near, first[2]), *chain[1:-1], (x_swell, -near, last[2])), near


def _cut(contour: Contour, x: float) -> tuple[Corner, ...]:
    """The open line of the outline beyond x, from its treble side to its bass side. An arc across x becomes chords."""
    corners = _with_crossings(contour, x)
    start = next(
        k for k, (a, b) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)) if a[0] == x and b[0] < x
    )
    line = [*corners[start:], *corners[:start]]
    end = next(k for k in range(1, len(line)) if line[k][0] == x)
    return tuple(line[: end + 1])


def _with_crossings(contour: Contour, x: float) -> list[Corner]:
    """The corners, with one added wherever the outline crosses x. A corner that lies on x is moved a little to one
    side."""
    from neckmodel.geometry.contour import arc_points

    found: list[Corner] = []
    for a, b in contour.stretches:
        stretch: list[Corner] = [a]
        bend = arc_points(a, b) if a[2] else None
        if bend is not None and min(a[0], *bend[:, 0]) < x < max(a[0], *bend[:, 0]):
            stretch = [(a[0], a[1], 0.0), *((float(p), float(q), 0.0) for p, q in bend[:-1])]
        for p, q in zip(stretch, [*stretch[1:], b], strict=True):
            found.append((x, p[1], p[2]) if abs(p[0] - x) < EVEN / 2 else p)
            if (p[0] - x) * (q[0] - x) < 0 and min(abs(p[0] - x), abs(q[0] - x)) >= EVEN / 2:
                found.append((x, p[1] + (q[1] - p[1]) * (x - p[0]) / (q[0] - p[0]), 0.0))
    return found


def _joined(chain: tuple[Corner, ...], x: float, near: float) -> tuple[Corner, ...]:
    """The line with its treble side drawn in to `near` at its start; two arcs that touch each other lead from there to
    the line."""
    x_own = x - JOIN
    rest = _with_crossings(Contour(chain), x_own)
    start = next((k for k, corner in enumerate(rest) if corner[0] <= x_own), None)
    if start is None or rest[start][1] <= 0:
        raise DrawingError(
            f"has unequal sides where the head begins, and is too short to join the wider one within {JOIN:g} mm"
        )
    own = rest[start]
    bulge = math.tan(math.atan2(own[1] - near, JOIN) / 2)
    middle = (x - JOIN / 2, (near + own[1]) / 2, bulge)
    return ((x, near, -bulge), middle, *rest[start:])


def _mirrored(chain: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Bass and treble exchanged, still from the treble side to the bass side."""
    return tuple((x, -y, -bulge) for x, y, bulge in reversed_line(chain))
