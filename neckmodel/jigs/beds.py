"""Places the pieces on the printer's beds: the longest first, in rows. Plain numbers. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from neckmodel.jigs.types import JigError
from neckmodel.limits import BED_MARGIN

BETWEEN = 5.0  # mm kept free between two pieces; common practice, no source


@dataclass(frozen=True)
class Spot:
    """Place of a piece's lower left corner on a bed. bed: counted from 1; turned: whether the piece is turned by 90
    degrees."""

    bed: int
    x: float
    y: float
    turned: bool


def lay_on_beds(sizes: Sequence[tuple[str, float, float, float]], bed: Sequence[float]) -> dict[str, Spot]:
    """A spot for each of (name, length in x, width in y, height). Raises JigError where one is larger than the bed."""
    room_x, room_y = bed[0] - 2 * BED_MARGIN, bed[1] - 2 * BED_MARGIN
    turned = {}
    for name, x, y, z in sizes:
        turned[name] = not (x <= room_x and y <= room_y)
        if (turned[name] and not (y <= room_x and x <= room_y)) or z > bed[2]:
            raise JigError(
                f"piece {name} is {x:.1f} x {y:.1f} x {z:.1f} mm, larger than the printer's bed "
                f"({bed[0]:g} x {bed[1]:g} x {bed[2]:g} mm, {BED_MARGIN:g} mm kept free along its edges); "
                "state workshop.printer.bed"
            )
    sides = {n: (y, x) if turned[n] else (x, y) for n, x, y, _ in sizes}
    spots: dict[str, Spot] = {}
    rows: list[list[float]] = []  # of each row: bed, y where it starts, its width, x where the next piece may lie
    for name in sorted(sides, key=lambda n: (-sides[n][1], -sides[n][0], n)):
        length, width = sides[name]
        row = next((r for r in rows if r[3] + length <= room_x + 1e-9 and width <= r[2] + 1e-9), None)
        if row is None:
            row = _new_row(rows, width, room_y)
            rows.append(row)
        spots[name] = Spot(int(row[0]), BED_MARGIN + row[3], BED_MARGIN + row[1], turned[name])
        row[3] += length + BETWEEN
    return spots


def _new_row(rows: Sequence[Sequence[float]], width: float, room: float) -> list[float]:
    bed = 1
    while True:
        used = max((r[1] + r[2] + BETWEEN for r in rows if r[0] == bed), default=0.0)
        if used + width <= room + 1e-9:
            return [bed, used, width, 0.0]
        bed += 1
