"""Finds room for words in a drawing: the largest letters that stand clear of every line and inside the drawing.

A program that places a part by the extent of everything it reads would place it wrongly if words stood outside the
part.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.chords import chord_points
from neckmodel.sheets.marks.display import Box, Circle, Mark, Path, Text
from neckmodel.sheets.marks.lettering import wrap

CELLS = 400  # along the longer side of the reach
LARGEST, SMALLEST, SMALLER = 2.5, 0.3, 0.93  # mm of a capital; from one size tried to the next
PITCH = 1.7  # of a line to the next, of its capitals' height
SPARE = 0.7  # share of the room's width that a line takes by these widths: another program's letters may be wider


def words_within(layer_of: Text, lines: Sequence[str], marks: Sequence[Mark], box: Box) -> list[Text]:
    """The lines of words, wrapped, on the layer of a sample text, in the room that holds them largest; [] where even
    the smallest letters have no room."""
    cell = max(box[2] - box[0], box[3] - box[1]) / CELLS
    rooms = list(_rooms(_free(marks, box, cell)))
    height = LARGEST
    while height >= SMALLEST and rooms:
        for row, column, rows, columns in rooms:
            wide, high = (columns - 2) * cell, (rows - 2) * cell
            if wide < 8 * height or high < PITCH * height:
                continue
            wrapped = [part for line in lines for part in wrap(line, height, wide * SPARE)]
            if len(wrapped) * PITCH * height <= high:
                left, top = box[0] + (column + 1) * cell, box[1] + (row + rows - 1) * cell
                return [
                    Text(layer_of.layer, (left, top - height - k * PITCH * height), says, height)
                    for k, says in enumerate(wrapped)
                ]
        height *= SMALLER
    return []


def _free(marks: Sequence[Mark], box: Box, cell: float) -> np.ndarray:
    """(rows, columns) bool: cells that no line passes through, the first row at the bottom."""
    wide, high = (max(math.ceil((box[k + 2] - box[k]) / cell - 1e-9), 1) for k in (0, 1))
    free = np.ones((high, wide), bool)
    for mark in marks:
        for start, end in _chords(mark):
            count = int(math.dist(start, end) / cell * 2) + 2
            xs = np.clip(((np.linspace(start[0], end[0], count) - box[0]) / cell).astype(int), 0, wide - 1)
            ys = np.clip(((np.linspace(start[1], end[1], count) - box[1]) / cell).astype(int), 0, high - 1)
            free[ys, xs] = False
    return free


def _chords(mark: Mark) -> Iterator[tuple[Point, Point]]:
    if isinstance(mark, Path | Circle):
        points = chord_points(mark)
        yield from pairwise(points)


def _rooms(free: np.ndarray) -> Iterator[tuple[int, int, int, int]]:
    """(row, column, rows, columns) of empty rectangles that no other contains, the largest first; one of each size."""
    found: dict[tuple[int, int], tuple[int, int]] = {}
    heights = np.zeros(free.shape[1] + 1, int)
    for row in range(free.shape[0]):
        heights[:-1] = np.where(free[row], heights[:-1] + 1, 0)
        open_: list[tuple[int, int]] = []  # (first column, height), rising
        for column, tall in enumerate(heights.tolist()):
            first = column
            while open_ and open_[-1][1] >= tall:
                first, above = open_.pop()
                if above > tall:
                    found.setdefault((above, column - first), (row - above + 1, first))
            if tall:
                open_.append((first, tall))
    widest = 0
    for rows, columns in sorted(found, reverse=True):  # the tallest first: of those as tall or taller only a wider one
        if columns > widest:
            widest = columns
            yield (*found[rows, columns], rows, columns)
