"""The views of one piece of a jig on paper, with its name, its sizes and how it lies. Lengths mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.lengths import with_unit
from neckmodel.sheets.jigs.faces import SideFaces, faces_of_side
from neckmodel.sheets.jigs.places import Place, notes, places
from neckmodel.sheets.jigs.sides import FLAT, views_drawn, words
from neckmodel.sheets.jigs.sizes import SMALL, Size, sizes_of, value
from neckmodel.sheets.marks.chords import chord_points
from neckmodel.sheets.marks.clip import within
from neckmodel.sheets.marks.dimensions import Dimension, level_lane, running_lane
from neckmodel.sheets.marks.display import Box, Mark, Path
from neckmodel.sheets.marks.layers import CENTRE, DATUM, HIDDEN, SIZES, TEXT
from neckmodel.sheets.marks.lettering import LETTERS, plain, width, wrap
from neckmodel.sheets.marks.occupied import Crowd
from neckmodel.sheets.marks.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.jigs.types import Bare, Jig

NAME = 2.4  # of a piece's name
PITCH = 2.9  # from one line of a caption to the next
BEYOND = 3.0  # that the centre line reaches past a piece
SLACK = 4.0  # that labels may spread past a view's ends
SMALLEST = 1.1  # capitals of a label's words where there is little room
LABEL = 40.0  # that a line of a label's words may take
NARROW = 100.0  # that a caption may take over a narrower view
STRAIGHT = 1e-9  # of a unit vector: directions nearer to each other are the same
STEP, FAR = 1.0, 60  # mm from one place for words to the next, and how many are tried each way
WIDEST = 180.0  # mm that a caption may take: it must stand whole on a sheet


@dataclass(frozen=True)
class PieceViews:
    """A piece and its views, the chief one first."""

    piece: Bare
    views: tuple[Sketch, ...]


def views_of(jig: Jig, piece: Bare) -> PieceViews:
    """The views of one piece, from every side that is drawn."""
    from neckmodel.jigs.make import corner
    from neckmodel.solids.kernel.shapes import mirrored

    solid = mirrored(piece.solid, f"mirroring {piece.name}") if jig.layout.left_handed else piece.solid
    low, high = corner(solid)
    named = places(jig.layout, jig.kind, piece, (low[0], high[0]))
    sides = [faces_of_side(solid, view) for view in views_drawn(jig.kind, piece)]
    sides = sides[:1] if sides[0].deep <= FLAT else sides
    return PieceViews(piece, tuple(_view(jig, piece, one, named, chief=one is sides[0]) for one in sides))


def size_of_sketch(sketch: Sketch) -> tuple[float, float]:
    """Width and height of what is drawn."""
    x0, y0, x1, y1 = sketch.bounds()
    return x1 - x0, y1 - y0


def _view(jig: Jig, piece: Bare, side: SideFaces, named: Sequence[Place], *, chief: bool) -> Sketch:
    """One view, with its piece at its own place on the paper. In a side view hidden edges are left out, except in
    blocks, whose floors show there."""
    unit, whole = jig.layout.design.design.units, chief or jig.kind == "trial-block"
    sketch, (x0, y0, x1, y1) = Sketch(), side.box
    sketch.add(*(mark for mark in side.marks if whole or getattr(mark, "layer", None) is not HIDDEN))
    sizes = sizes_of(side, named, chief=chief)

    def lane(found: Sequence[Size], datum: Size) -> list[Dimension]:
        return [Dimension(s.at, value(s, datum, unit), DATUM if s.at == datum.at else SIZES) for s in found]

    written = _label(sketch, jig, piece, side)
    if sizes.datum_u.says:
        _centre(sketch, side, 0, written)
    if sizes.datum_v.says:
        _centre(sketch, side, 1, written)
    running_lane(sketch, lane(sizes.below, sizes.datum_u), y0, False, LETTERS, (x0 - SLACK, x1 + SLACK), 0.0)
    level_lane(sketch, lane(sizes.left, sizes.datum_v), x0, True, LETTERS, (y0, y1 + SLACK), 0.0)
    level_lane(sketch, lane(sizes.right, sizes.datum_v), x1, False, LETTERS, (y0, y1 + SLACK), 0.0)
    _caption(sketch, jig, piece, side, chief)
    return sketch


def _caption(sketch: Sketch, jig: Jig, piece: Bare, side: SideFaces, chief: bool) -> None:
    """The words over a view: the piece's name and the side it shows; over the chief view also its use and its sizes."""
    left, _, right, high = sketch.bounds()
    said = [f"{words(side.view, jig.layout).capitalize()}."]
    if chief:
        said = [*_about(jig, piece, side), *said]
    lines = [line for text in said for line in wrap(text, LETTERS, min(max(right - left, NARROW), WIDEST))]
    y = high + 2.0 + PITCH * len(lines)
    sketch.text(TEXT, (left, y + 0.6), f"jig-{jig.kind}-{piece.name}", NAME)
    sketch.lines(TEXT, (left, y - PITCH), lines, LETTERS, PITCH)


def _about(jig: Jig, piece: Bare, side: SideFaces) -> list[str]:
    unit = jig.layout.design.design.units
    x0, y0, x1, y1 = side.box
    about = [f"{piece.says}; {' x '.join(with_unit(size, unit) for size in (x1 - x0, y1 - y0, side.deep))}."]
    right = side.view.right
    level = abs(right[0]) > 1 - STRAIGHT
    if level:
        about.append(f"Its left end lies at x {with_unit(min(right[0] * u for u in (x0, x1)), unit)} from the nut.")
    depths = sorted({round(ring.depth, 2) for ring in side.rings} - {0.0, round(side.deep, 2)})
    if depths:
        about.append(f"Level faces below the nearest: {', '.join(with_unit(depth, unit) for depth in depths)}.")
    about += _openings(side, unit)
    about += notes(jig.layout, jig.kind, piece, (x0, x1) if level else None)
    return [" ".join(about)]


def _openings(side: SideFaces, unit: str) -> list[str]:
    """How large holes and small openings are, and how many of each."""
    found: Counter[tuple[str, str]] = Counter()
    told: set[tuple[float, ...]] = set()
    for ring in side.rings:
        box = ring.box
        place = tuple(round(end, 2) for end in box)
        wide, high = box[2] - box[0], box[3] - box[1]
        if place in told or side.touches(ring, 0) or side.touches(ring, 1) or max(wide, high) > SMALL:
            continue
        told.add(place)
        sizes = f"{with_unit(wide, unit)} x {with_unit(high, unit)}"
        if ring.diameter is not None:
            sizes = f"{with_unit(ring.diameter, unit)} across"
        kind = "behind" if ring.behind else "holes" if ring.diameter is not None else "openings"
        found[kind, sizes] += 1
    by_kind: dict[str, list[str]] = {}
    for (kind, sizes), count in found.items():
        by_kind.setdefault(kind, []).append(f"{count} of {sizes}")
    return [f"{kind.capitalize()}: {'; '.join(each)}." for kind, each in by_kind.items()]


def _centre(sketch: Sketch, side: SideFaces, way: int, written: Box | None) -> None:
    """The neck's centre line across the piece, broken where words stand."""
    low, high = side.box[1 - way] - BEYOND, side.box[3 - way] + BEYOND
    gaps = [] if written is None or not written[way] < 0 < written[way + 2] else [(written[1 - way], written[3 - way])]
    start = low
    for a, b in [*gaps, (high, high)]:
        ends = ((start, 0.0), (a, 0.0)) if way == 1 else ((0.0, start), (0.0, a))
        sketch.line(CENTRE, *ends)
        start = b


def _label(sketch: Sketch, jig: Jig, piece: Bare, side: SideFaces) -> Box | None:
    """What is cut into the face that is looked at, where it stands; the box of its words."""
    label, layout = piece.label, jig.layout
    if max(abs(a - b) for a, b in zip(label.outward, side.view.outward, strict=True)) > STRAIGHT:
        return None
    x, y, z = label.at
    u, v = side.view.at((x, layout.across(y), z))
    says = plain(", ".join((layout.name, jig.kind, *label.words)))
    height, room = LETTERS, min(label.width - 4.0, LABEL)
    lines = wrap(says, height, room)
    while len(lines) * PITCH * height / LETTERS > label.height - 1.0 and height > SMALLEST:
        height -= 0.1
        lines = wrap(says, height, room if height > SMALLEST else label.width - 4.0)
    pitch = PITCH * height / LETTERS
    wide = max(width(line, height) for line in lines) + 2.0
    box = _clear(sketch, side, (u, v), (wide, (len(lines) + 0.5) * pitch))
    u, first = (box[0] + box[2]) / 2, box[3] - pitch
    for k, line in enumerate(lines):
        sketch.text(TEXT, (u, first - k * pitch), line, height, "middle")
    return box


def _clear(sketch: Sketch, side: SideFaces, at: Point, size: tuple[float, float]) -> Box:
    """The place on the piece, clear of every line, that lies nearest to the words' own place."""
    from shapely.geometry import box as region

    (u, v), (wide, high) = at, size
    own = (u - wide / 2, v - high / 2, u + wide / 2, v + high / 2)
    crowd = Crowd(sketch.marks)
    for step in (0.0, *(STEP * k for k in range(1, FAR))):
        for du, dv in dict.fromkeys(((0.0, step), (0.0, -step), (step, 0.0), (-step, 0.0), *_corners(step))):
            there = (own[0] + du, own[1] + dv, own[2] + du, own[3] + dv)
            if crowd.free(there) and side.shadow.contains(region(*there)):
                return there
    # hidden edges may cross the words: they are left out under them
    sketch.marks = [part for mark in sketch.marks for part in _broken(mark, own)]
    return own


def _broken(mark: Mark, box: Box) -> list[Mark]:
    """The stretches of a hidden edge outside a box; other marks unchanged."""
    if not isinstance(mark, Path) or mark.layer is not HIDDEN:
        return [mark]
    parts: list[Mark] = []
    chords = [(start, end, within(start, end, box)) for start, end in pairwise(chord_points(mark))]
    if all(inside is None for _, _, inside in chords):
        return [mark]
    for start, end, inside in chords:
        ends = [(start, end)] if inside is None else [(start, inside[0]), (inside[1], end)]
        parts += [Path(mark.layer, pair) for pair in ends if pair[0] != pair[1]]
    return parts


def _corners(step: float) -> list[Point]:
    return [(a * step, b * step) for a in (-1.0, 1.0) for b in (-1.0, 1.0)]
