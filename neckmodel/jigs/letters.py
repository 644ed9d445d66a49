"""Letters of straight strokes, to be cut as grooves. Plain polygons, the same on every machine; no font file."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import TYPE_CHECKING

from neckmodel.limits import LEAST_LETTER

if TYPE_CHECKING:
    from shapely.geometry import Polygon

Stroke = tuple[tuple[float, float], ...]

# On a grid 4 wide and 6 high; strokes are level, upright or at 45 degrees, so that no corner is sharper than that.
_DRAWN = {
    "A": "00 04 26 44 40|02 42",
    "B": "00 06 36 45 44 33 03|33 42 41 30 00",
    "C": "41 30 10 01 05 16 36 45",
    "D": "00 06 26 44 42 20 00",
    "E": "40 00 06 46|03 33",
    "F": "00 06 46|03 33",
    "G": "45 36 16 05 01 10 30 41 43 23",
    "H": "00 06|40 46|03 43",
    "I": "10 30|20 26|16 36",
    "J": "46 41 30 10 01",
    "K": "00 06|02 46|13 40",
    "L": "06 00 40",
    "M": "00 06 24 46 40",
    "N": "00 06|05 41|40 46",
    "O": "10 01 05 16 36 45 41 30 10",
    "P": "00 06 36 45 44 33 03",
    "Q": "10 01 05 16 36 45 41 30 10|22 40",
    "R": "00 06 36 45 44 33 03|23 41 40",
    "S": "45 36 16 05 04 13 33 42 41 30 10 01",
    "T": "20 26|06 46",
    "U": "06 01 10 30 41 46",
    "V": "06 02 20 42 46",
    "W": "06 00 22 40 46",
    "X": "00 01 45 46|06 05 41 40",
    "Y": "06 05 23 45 46|23 20",
    "Z": "06 46 45 01 00 40",
    "0": "00 06 46 40 00",
    "1": "15 26 20|10 30",
    "2": "05 16 36 45 44 00 40",
    "3": "06 46 40 00|13 43",
    "4": "42 02 03 36 30",
    "5": "46 06 03 33 42 41 30 00",
    "6": "46 06 00 40 43 03",
    "7": "06 46 45 12 10",
    "8": "00 06 46 40 00|03 43",
    "9": "00 40 46 06 03 43",
    "-": "13 33",
    "/": "01 45",
    ".": "20 21",
    "+": "03 43|21 25",
}
WIDE, HIGH, ADVANCE, LINE = 4.0, 6.0, 6.0, 9.0  # grid units; ADVANCE from letter to letter, LINE from line to line
MARGIN = 1.5  # grid units, from the outermost strokes' middle to the end of the room
MOST_HEIGHT = 8.0  # mm of a letter

STROKES: dict[str, tuple[Stroke, ...]] = {
    letter: tuple(tuple((float(p[0]), float(p[1])) for p in stroke.split()) for stroke in drawn.split("|"))
    for letter, drawn in _DRAWN.items()
}


def plain(text: str) -> str:
    """The text in the letters that exist here: capitals, digits and - / . +; any other becomes a hyphen."""
    flat = unicodedata.normalize("NFKD", text.replace("ß", "ss")).encode("ascii", "ignore").decode().upper()
    return "".join(sign if sign in STROKES or sign == " " else "-" for sign in " ".join(flat.split()))


def lines_for(words: Sequence[str], width: float, height: float) -> tuple[tuple[str, ...], float]:
    """(lines, height of a letter, mm) that fill the room best; words stay whole.

    A word may be broken after a hyphen. Where the room is too small for all words at the least height, the last words
    are left out; the first word is cut short if even that is too long.
    """
    kept = [part for word in words for part in _parted(plain(word))]
    while True:
        tries = [_broken(kept, count) for count in range(1, len(kept) + 1)]
        best = max(tries, key=lambda lines: _height(lines, width, height))
        size = min(_height(best, width, height), MOST_HEIGHT)
        if size >= LEAST_LETTER:
            return best, size
        if len(kept) == 1:
            room = max(1, int((width * HIGH / LEAST_LETTER - 2 * MARGIN + ADVANCE - WIDE) / ADVANCE))
            return (kept[0][:room],), LEAST_LETTER
        kept.pop()


def outlines(lines: Sequence[str], height: float, stroke: float) -> list[Polygon]:
    """The grooves' outlines in plan, the whole text centred on (0, 0). height: of a letter; stroke: its width, mm."""
    from shapely import unary_union
    from shapely.geometry import LineString

    unit, found = height / HIGH, []
    top = (LINE * (len(lines) - 1) + HIGH) / 2
    for row, line in enumerate(lines):
        left, base = -(ADVANCE * len(line) - ADVANCE + WIDE) / 2, top - HIGH - LINE * row
        for column, sign in enumerate(line):
            drawn = [
                LineString([((left + ADVANCE * column + x) * unit, (base + y) * unit) for x, y in points]).buffer(
                    stroke / 2, cap_style="square", join_style="mitre", mitre_limit=1.5
                )
                for points in STROKES.get(sign, ())
            ]
            if drawn:
                shape = unary_union(drawn).simplify(1e-3)
                found += list(getattr(shape, "geoms", [shape]))
    return found


def _height(lines: Sequence[str], width: float, height: float) -> float:
    """The largest letter height at which the lines fit into the room, with a margin all round."""
    across = max(ADVANCE * len(line) - ADVANCE + WIDE for line in lines) + 2 * MARGIN
    down = LINE * (len(lines) - 1) + HIGH + 2 * MARGIN
    return HIGH * min(width / across, height / down)


def _broken(words: Sequence[str], count: int) -> tuple[str, ...]:
    """The words in order on `count` lines, the longest line as short as can be."""
    if count == 1:
        return (_joined(words),)
    options = [
        (_joined(words[:first]), *_broken(words[first:], count - 1)) for first in range(1, len(words) - count + 2)
    ]
    return min(options, key=lambda lines: max(map(len, lines)))


def whole_label(words: Sequence[str], width: float, height: float) -> bool:
    """Whether all words have room."""
    lines, _ = lines_for(words, width, height)
    return "".join(lines).replace(" ", "") == "".join(map(plain, words)).replace(" ", "")


def _parted(word: str) -> list[str]:
    parts = word.replace("-", "- ").split()
    return parts if len(parts) < MOST_PARTS else word.split()


MOST_PARTS = 4  # of one word; more ways to break a line are not tried


def _joined(words: Sequence[str]) -> str:
    """The words as one line, without a blank after a hyphen."""
    return "".join(word if word.endswith("-") else f"{word} " for word in words).rstrip()
