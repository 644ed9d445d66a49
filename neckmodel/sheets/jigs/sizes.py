"""The sizes that a view of a jig shows: running sizes of every edge, opening, hole and named place. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from neckmodel.lengths import with_unit
from neckmodel.sheets.jigs.faces import SideFaces, Stretch
from neckmodel.sheets.jigs.places import Place
from neckmodel.sheets.jigs.sides import ACROSS, axis

SMALL = 16.0  # an opening no larger than this is placed by its middle and told by its size
LEAST = 2.0  # an edge shorter than this is not measured to
SAME = 0.02  # two sizes nearer to each other than this are one
LEVEL = 1e-6  # mm; an edge whose ends differ by less runs along the paper, or up it
CENTRE_LINE = "centre line"
INSIDE = 1.0  # how far inside a piece the centre line is, to be measured from


@dataclass(frozen=True)
class Size:
    """at: its place on the paper. says: what lies there, "" where the drawing shows it."""

    at: float
    says: str


@dataclass(frozen=True)
class Sizes:
    """below: sizes along the paper; left, right: up the paper. Each counts from its datum, which is a place on the
    paper too."""

    below: tuple[Size, ...]
    left: tuple[Size, ...]
    right: tuple[Size, ...]
    datum_u: Size
    datum_v: Size


def sizes_of(side: SideFaces, named: Sequence[Place], *, chief: bool) -> Sizes:
    """All sizes of a view. chief: the chief view has a size for every opening and edge, other views only for holes, the
    piece's ends and named places."""
    found = [*_rings(side, chief), *_ends(side, chief)]
    left, right = ([Size(at, "") for at in _corners(side, 0, side.box[end])] for end in (0, 2))
    for at in (
        side.box[1],
        side.box[3],
    ):  # the piece's own end gets its size on its own side, the right if it ends only there
        if _is_among(at, left) or not _is_among(at, right):
            left.append(Size(at, ""))
    datum_u, datum_v = _datum(side, 0, named), _datum(side, 1, named)
    us = [Size(at, says) for way, at, says in found if way == 0]
    vs = [Size(at, says) for way, at, says in found if way == 1]
    below = _named(side, 0, named, _merged([*us, datum_u]))
    left = _named(side, 1, named, _merged([*vs, *left, datum_v]))
    right = [size for size in _merged(right) if not _is_among(size.at, left)]
    return Sizes(tuple(below), tuple(left), tuple(right), datum_u, datum_v)


def _is_among(at: float, sizes: Sequence[Size]) -> bool:
    return any(abs(size.at - at) <= SAME for size in sizes)


def _datum(side: SideFaces, way: int, named: Sequence[Place]) -> Size:
    """The datum of a view: a named place that is one; else the centre line, where a view across the neck has it on the
    piece; else the piece's end."""
    direction = (side.view.right, side.view.up)[way]
    low, high = side.box[way], side.box[way + 2]
    for place in named:
        if place.datum and axis(direction) in place.ways:
            return Size(side.view.at(place.at)[way], "")
    if axis(direction) == ACROSS and low + INSIDE < 0.0 < high - INSIDE:
        return Size(0.0, CENTRE_LINE)
    return Size(low, "")


def _rings(side: SideFaces, chief: bool) -> Iterator[tuple[int, float, str]]:
    for ring in side.rings:
        wide, tall = ring.box[2] - ring.box[0], ring.box[3] - ring.box[1]
        for way in (0, 1):
            low, high = ring.box[way], ring.box[way + 2]
            if ring.diameter is not None:
                yield way, (low + high) / 2, "hole" if way == 0 else ""
            elif not chief or (ring.behind and max(wide, tall) > SMALL >= min(wide, tall)):
                continue  # the strips of a face between grooves behind it are no features
            elif high - low <= SMALL and not side.touches(ring, way):
                yield way, (low + high) / 2, ("behind" if ring.behind else "opening") if way == 0 else ""
            else:
                edges = (s for s in ring.stretches if abs(s[0][way] - s[1][way]) < LEVEL and _long(s) >= LEAST)
                ends = () if side.touches(ring, way) else (low, high)
                for at in (*(start[way] for start, _, _ in edges), *ends):
                    yield way, at, ""


def _ends(side: SideFaces, chief: bool) -> Iterator[tuple[int, float, str]]:
    """The piece's own ends, and along the paper the corners of its upper and lower edges. From the side, only those
    where the outer rim has a corner, and only the lower ones."""
    yield from ((0, at, "") for at in (side.box[0], side.box[2]))
    if chief:
        yield from ((0, at, "") for end in (1, 3) for at in _corners(side, 1, side.box[end]))
    else:
        covered = [x for x, y in side.rim_corners() if abs(y - side.box[1]) < SAME]
        lower = _corners(side, 1, side.box[1])
        yield from ((0, at, "") for at in lower if any(abs(at - x) < SAME for x in covered))


def _corners(side: SideFaces, way: int, at: float) -> Iterator[float]:
    """Where the straight edges at one end of the piece begin and end, along that end."""
    for ring in side.rings:
        for start, end, bulge in ring.stretches:
            there = abs(start[way] - at) < SAME and abs(end[way] - at) < SAME
            if bulge == 0 and there and _long((start, end, bulge)) >= LEAST:
                yield start[1 - way]
                yield end[1 - way]


def _long(stretch: Stretch) -> float:
    (x0, y0), (x1, y1), _ = stretch
    return float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)


def _merged(sizes: Sequence[Size]) -> list[Size]:
    """The sizes in order, those at one place merged into one with the words of all."""
    merged: list[Size] = []
    for size in sorted(sizes, key=lambda s: s.at):
        if merged and size.at - merged[-1].at <= SAME:
            before = merged[-1]
            says = list(dict.fromkeys(part for part in (before.says, size.says) if part))
            merged[-1] = Size(before.at, "; ".join(says))
        else:
            merged.append(size)
    return merged


def _named(side: SideFaces, way: int, named: Sequence[Place], sizes: list[Size]) -> list[Size]:
    """The sizes, with the names of places put before their words."""
    direction, box = (side.view.right, side.view.up)[way], side.box
    for place in named:
        at = side.view.at(place.at)[way]
        if axis(direction) not in place.ways or not box[way] - SAME <= at <= box[way + 2] + SAME:
            continue
        near = [k for k, size in enumerate(sizes) if abs(size.at - at) <= SAME]
        if near and place.says not in sizes[near[0]].says:
            before = sizes[near[0]]
            own = "" if before.says in ("hole", "opening", "behind") else before.says
            sizes[near[0]] = Size(before.at, ", ".join(part for part in (place.says, own) if part))
        elif not near and not place.at_hole:
            sizes.append(Size(at, place.says))
    return sorted(sizes, key=lambda s: s.at)


def value(size: Size, datum: Size, unit: str) -> str:
    """A size in words: what lies there, and its distance from the datum."""
    far = with_unit(abs(size.at - datum.at), unit)
    return f"{size.says}: {far}" if size.says else far
