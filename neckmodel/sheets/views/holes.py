"""The holes to be marked out: place and diameter of each, in a list and beside it in plan. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets.marks.display import Box, Text
from neckmodel.sheets.marks.layers import STATIONS, TEXT
from neckmodel.sheets.marks.lettering import BELOW, size_of
from neckmodel.sheets.marks.occupied import Crowd, round_about
from neckmodel.sheets.marks.sketch import Sketch, longest, round_all

if TYPE_CHECKING:
    from neckmodel.layout import Layout

LETTERS = (1.6, 1.4, 1.2)  # mm, capitals: the largest that find room
PITCH = 1.6  # of a line to the next, of its capitals' height
AIR = 0.6  # mm round a label
REACHES = (9.0, 18.0, 60.0)  # mm from a hole to its label: smaller letters rather than farther away
NEAR = 4.0  # mm; a label farther from its hole has a line to it


@dataclass(frozen=True)
class Hole:
    """at: in plan, as on the neck of this hand. across: its diameter. deep: its depth in words."""

    name: str
    at: Point
    across: float
    deep: str

    @property
    def box(self) -> Box:
        """The box round it in plan."""
        (x, y), half = self.at, self.across / 2
        return x - half, y - half, x + half, y + half

    def lines(self, unit: str) -> tuple[str, ...]:
        """The lines of its label: name, distance from the centre line, diameter."""
        return self.name, f"y {with_unit(self.at[1], unit)}", f"{tool_size(self.across, unit)} across"


def holes(layout: Layout) -> tuple[Hole, ...]:
    """The holes of the tuners, of the heel's screws and of a clamp's screws, as they are listed."""
    unit = layout.design.design.units
    found = [
        Hole(plain(tuner.name), (tuner.on_face[0], layout.across(tuner.on_face[1])), tuner.hole, "through")
        for tuner in layout.tuners
    ]
    found += [
        Hole(
            plain(screw.name),
            (screw.x, layout.across(screw.y)),
            screw.hole,
            f"{with_unit(screw.z_point - screw.z_bottom, unit)} from the heel's bottom",
        )
        for screw in layout.screws
    ]
    if layout.clamp is not None:
        found += [
            Hole(
                plain(hole.name),
                (hole.x, layout.across(hole.y)),
                hole.diameter,
                f"{with_unit(hole.depth, unit)} from the glue plane",
            )
            for hole in layout.clamp.screws
        ]
    return tuple(found)


def label_holes(sketch: Sketch, layout: Layout, reach: Box) -> None:
    """Writes beside every hole its label, as near as it stands clear of lines and words and inside the drawing."""
    unit, crowd = layout.design.design.units, Crowd(sketch.marks)
    for hole in holes(layout):
        box, lines = _label(hole, hole.lines(unit), crowd, reach)
        texts = [replace(line, of=round_all([box, hole.box])) for line in lines]
        if (leader := _leader(hole, box)) is not None:
            sketch.line(STATIONS, *leader)
            crowd.add(sketch.marks[-1:])
        sketch.add(*texts)
        crowd.add(texts)
        crowd.block(box)


def _label(hole: Hole, lines: Sequence[str], crowd: Crowd, reach: Box) -> tuple[Box, list[Text]]:
    """The nearest place for a label, upright or turned by 90 degrees, with a leader that crosses no words; where none
    is clear, the first place clear of words."""
    tried: list[tuple[Box, list[Text]]] = []
    poor: list[tuple[Box, list[Text]]] = []
    for near, far in pairwise((hole.across / 2 + 0.3, *REACHES)):
        for height, turned in product(LETTERS, (False, True)):
            size = (longest(lines, height) + 2 * AIR, height * PITCH * len(lines) + 2 * AIR)
            for box in round_about(hole.at, size[::-1] if turned else size, (near, max(near, far))):
                if not _inside(box, reach) or crowd.on_words(box):
                    continue
                found = (box, _texts(box, lines, height, turned))
                if (leader := _leader(hole, box)) is not None and crowd.over_words(*leader):
                    poor.append(found)
                elif crowd.on_lines(box):
                    tried.append(found)
                else:
                    return found
    return (tried or poor)[0]


def _inside(box: Box, reach: Box) -> bool:
    return box[0] >= reach[0] and box[1] >= reach[1] and box[2] <= reach[2] and box[3] <= reach[3]


def _texts(box: Box, lines: Sequence[str], height: float, turned: bool) -> list[Text]:
    pitch, below = height * PITCH, BELOW * size_of(height)
    if turned:  # read from the right, so the first line lies farthest to the left
        feet = box[0] + AIR + pitch - below
        places = [(feet + k * pitch, box[1] + AIR) for k in range(len(lines))]
        return [Text(TEXT, at, line, height, "start", 90.0) for at, line in zip(places, lines, strict=True)]
    feet = box[3] - AIR - pitch + below
    return [Text(TEXT, (box[0] + AIR, feet - k * pitch), line, height) for k, line in enumerate(lines)]


def _leader(hole: Hole, box: Box) -> tuple[Point, Point] | None:
    """A line from a label to its hole's edge where they lie far apart."""
    x, y = hole.at
    foot = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
    far = ((foot[0] - x) ** 2 + (foot[1] - y) ** 2) ** 0.5
    if far - hole.across / 2 <= NEAR:
        return None
    share = hole.across / 2 / far
    return foot, (x + (foot[0] - x) * share, y + (foot[1] - y) * share)


def hole_rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    """(name, x, y, across, deep) of each, in words."""
    unit = layout.design.design.units
    for hole in holes(layout):
        yield hole.name, *(with_unit(size, unit) for size in hole.at), tool_size(hole.across, unit), hole.deep
