"""How wide a line of text is, and where it is broken, computed before any file is written.

The widths are those of the font that the PDF files carry (`writers/drawings/pdf.py` names it).
"""

from __future__ import annotations

import math
import unicodedata

from neckmodel.sheets.marks.display import Box, Text

# fmt: off
_ASCII = (  # thousandths of the font's size, from space on
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636,
    636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863,
    748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635,
    615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636,
    337, 636, 838)
_LATIN = (  # from the no-break space on
    318, 401, 636, 636, 636, 636, 337, 500, 500, 1000, 471, 612, 838, 361, 1000, 500, 500, 838, 401, 401, 500, 636, 636,
    318, 500, 401, 471, 612, 969, 969, 969, 531, 684, 684, 684, 684, 684, 684, 974, 698, 632, 632, 632, 632, 295, 295,
    295, 295, 775, 748, 787, 787, 787, 787, 787, 838, 787, 732, 732, 732, 732, 611, 605, 630, 613, 613, 613, 613, 613,
    613, 982, 550, 615, 615, 615, 615, 278, 278, 278, 278, 612, 634, 612, 612, 612, 612, 612, 838, 612, 634, 634, 634,
    634, 592, 635, 592)
# fmt: on
WIDTHS = {
    **{chr(0x20 + k): width for k, width in enumerate(_ASCII)},
    **{chr(0xA0 + k): width for k, width in enumerate(_LATIN)},
    **{"\u2013": 500, "\u2019": 318, "“": 518, "”": 518, "…": 1000, "Š": 635, "š": 521, "Œ": 1070, "œ": 1023},
}
LETTERS = 1.8  # mm, capitals of sizes, captions and small print
CAPITAL = 0.729  # height of a capital, of the font's size
BELOW = 0.236  # how far letters such as g reach below the line, of the font's size


def plain(text: str) -> str:
    """The text in the letters that the drawings have; any other letter becomes "?"."""
    text = " ".join(text.split())
    if all(letter in WIDTHS for letter in text):
        return text
    bare = (unicodedata.normalize("NFKD", letter) if letter not in WIDTHS else letter for letter in text)
    kept = ("".join(c for c in part if not unicodedata.combining(c)) for part in bare)
    return "".join(letter if letter in WIDTHS else "?" for part in kept for letter in part)


def size_of(height: float) -> float:
    """The font's size, mm, whose capitals are this high."""
    return height / CAPITAL


def width(text: str, height: float) -> float:
    """Width of a line of text, mm; height: of a capital, mm."""
    return sum(WIDTHS[letter] for letter in text) / 1000 * size_of(height)


def wrap(text: str, height: float, room: float) -> tuple[str, ...]:
    """The text in lines no wider than `room` mm. A wider single word is broken inside."""
    lines: list[str] = []
    line = ""
    for word in plain(text).split(" "):
        if line and width(f"{line} {word}", height) <= room:
            line = f"{line} {word}"
            continue
        if line:
            lines.append(line)
        while width(word, height) > room and len(word) > 1:
            fits = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or width(word[:n], height) <= room)
            lines.append(word[:fits])
            word = word[fits:]
        line = word
    return (*lines, line)


def text_box(text: Text) -> Box:
    """The box of a text, from the feet of its letters to the tops of its capitals, mm."""
    along = width(text.says, text.height)
    start = {"start": 0.0, "middle": -along / 2, "end": -along}[text.anchor]
    low = -BELOW * size_of(text.height)
    turn = math.radians(text.turn)
    corners = [
        (text.at[0] + u * math.cos(turn) - v * math.sin(turn), text.at[1] + u * math.sin(turn) + v * math.cos(turn))
        for u in (start, start + along)
        for v in (low, text.height)
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)
