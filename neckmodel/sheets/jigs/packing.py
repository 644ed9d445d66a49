"""Views put in rows, and rows on pages: as few pages as it takes, and the emptiest of them as full as it can be. mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

Size = tuple[float, float]
"""Width and height, mm."""
Row = tuple[int, ...]
"""Numbers of the views that stand beside each other."""


@dataclass(frozen=True)
class Room:
    """What pages have room for. width: of a page. first, each: height that is free on the first page, under what stands
    there already, and on every other. between: kept free beside and under every view. mm"""

    width: float
    first: float
    each: float
    between: float


def pack(sizes: Sequence[Size], orders: Iterable[Sequence[int]], room: Room) -> tuple[tuple[Row, ...], ...]:
    """The rows of each page, the first page's first, which may have none.

    sizes: of every view; none larger than a page. orders: in which they may stand, the one liked best first.
    """
    ways = []
    for order in orders:
        for rows in (_in_turn(sizes, order, room), _filled_up(sizes, order, room)):
            heights = _heights(sizes, rows, room)
            for pages in (_evenly(heights, room), _where_they_fit(heights, room)):
                ways.append(tuple(tuple(rows[k] for k in page) for page in pages))
    return min(ways, key=lambda pages: (len(pages), -round(least_filled(sizes, pages, room), 3)))


def least_filled(sizes: Sequence[Size], pages: Sequence[Sequence[Row]], room: Room) -> float:
    """The share of its height that the emptiest page fills; 1 where there is only the first one."""
    return min((sum(_heights(sizes, rows, room)) / room.each for rows in pages[1:]), default=1.0)


def _heights(sizes: Sequence[Size], rows: Sequence[Row], room: Room) -> list[float]:
    return [max(sizes[k][1] for k in row) + room.between for row in rows]


def _wide(sizes: Sequence[Size], row: Row, room: Room) -> float:
    return sum(sizes[k][0] + room.between for k in row) - room.between


def _in_turn(sizes: Sequence[Size], order: Sequence[int], room: Room) -> list[Row]:
    """Beside each other as far as the room goes."""
    rows: list[Row] = []
    for k in order:
        if rows and _wide(sizes, (*rows[-1], k), room) <= room.width:
            rows[-1] = (*rows[-1], k)
        else:
            rows.append((k,))
    return rows


def _filled_up(sizes: Sequence[Size], order: Sequence[int], room: Room) -> list[Row]:
    """Each in the first row that has room for it and is as high; else in a row of its own."""
    rows: list[Row] = []
    for k in order:
        for at, row in enumerate(rows):
            if _wide(sizes, (*row, k), room) <= room.width and sizes[k][1] <= max(sizes[j][1] for j in row):
                rows[at] = (*row, k)
                break
        else:
            rows.append((k,))
    return rows


def _evenly(heights: Sequence[float], room: Room) -> list[list[int]]:
    """In their order, on as few pages as that takes, the emptiest as full as it can be."""

    @cache
    def best(start: int, page: int) -> tuple[int, float, tuple[int, ...]]:
        """(pages, what the emptiest leaves free, where each ends) of the rows from one on."""
        free = room.each if page else room.first
        found: list[tuple[int, float, tuple[int, ...]]] = []
        for end in range(start, len(heights) + 1):
            taken = sum(heights[start:end])
            if taken > free:
                break
            if end == start and page:
                continue  # only the first page, which has words, may do without
            if end == len(heights):
                found.append((1, free - taken if page else 0.0, (end,)))
            else:
                pages, left, ends = best(end, page + 1)
                found.append((pages + 1, max(left, free - taken if page else 0.0), (end, *ends)))
        return min(found)

    ends = best(0, 0)[2]
    return [list(range(start, end)) for start, end in zip((0, *ends), ends, strict=False)]


def _where_they_fit(heights: Sequence[float], room: Room) -> list[list[int]]:
    """The highest rows first, each on the first page with room for it; on a page in their order."""
    pages: list[list[int]] = [[]]
    left = [room.first]
    for k in sorted(range(len(heights)), key=lambda k: -heights[k]):
        at = next((at for at, free in enumerate(left) if heights[k] <= free), len(pages))
        if at == len(pages):
            pages.append([])
            left.append(room.each)
        pages[at].append(k)
        left[at] -= heights[k]
    return [sorted(page) for page in pages]
