"""The legend without colour: every two samples, printed grey, differ in their dashes, their weight or their tint."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from sheet_cases import NAMES, PER_MM, ink, layout_of, part_of, sheet_of, sheets_of

from neckmodel.sheets.marks.display import Drawing, Text
from neckmodel.sheets.pages.legend import LETTERS, SAMPLE, entries
from neckmodel.writers.drawings.pdf import pdf_bytes


@dataclass(frozen=True)
class Look:
    """What an eye that sees no colour has of a sample, mm. strokes, gaps: kinds of length along it, whole ones only.
    thick: of the line. filled: share of ink across the sample's height."""

    strokes: tuple[float, ...]
    gaps: tuple[float, ...]
    thick: float
    filled: float


def look_of(band: NDArray[np.float64]) -> Look:
    dark = band > 0.25 * band.max()
    columns = dark.any(axis=0)
    edges = np.flatnonzero(np.diff(columns.astype(int))) + 1  # where ink begins or ends, the sample's own ends left out
    lengths: dict[bool, set[float]] = {True: set(), False: set()}
    for low, high in itertools.pairwise(edges.tolist()):
        lengths[bool(columns[low])].add(round((high - low) / PER_MM, 1))
    thick = float(dark.sum(axis=0)[columns].mean()) / PER_MM
    return Look(tuple(sorted(lengths[True])), tuple(sorted(lengths[False])), thick, float(band.mean() / 255))


def apart(one: Look, other: Look) -> bool:
    """By half again in weight, in the longest or shortest stroke, or in the widest gap; by full against broken; by one
    kind of stroke against two; or by a tint."""

    def far(a: float, b: float) -> bool:
        return max(a, b) > 1.5 * min(a, b)

    if far(one.thick, other.thick) or abs(one.filled - other.filled) > 0.04:
        return True
    if (not one.gaps) != (not other.gaps) or kinds(one.strokes) != kinds(other.strokes):
        return True
    ends = [(one.strokes[k : k + 1 or None], other.strokes[k : k + 1 or None]) for k in (0, -1)]
    lengths = (*ends, (one.gaps[-1:], other.gaps[-1:]))
    return any(far(a, b) for ones, others in lengths for a, b in zip(ones, others, strict=False))


def kinds(lengths: tuple[float, ...]) -> int:
    """How many lengths there are that are not alike."""
    return sum(1 for k, length in enumerate(lengths) if k == 0 or length > 1.3 * lengths[k - 1] + 0.1)


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("name", NAMES)
def test_samples_are_told_apart_without_colour(name: str, tmp_path: Path) -> None:
    page = sheet_of(name, "marking-out", "long").pages[0]
    pdf = tmp_path / "long.pdf"
    pdf.write_bytes(pdf_bytes((page,), "legend"))
    places = {}
    for says in entries(page.layers()):
        text = words(page, says)
        x, y = text.at[0] - SAMPLE - 1.5 - page.box[0], text.at[1] + LETTERS / 2 - page.box[1]
        places[says] = (x + 0.2, y - 1.7, x + SAMPLE - 0.2, y + 1.7)
    x0, y0, x1, y1 = np.array(list(places.values())).T
    whole = (min(x0), min(y0), max(x1), max(y1))
    block = ink(pdf, 1, whole, page.size[1])  # rendered once, for a process a sample would take most of the time
    looks = {}
    for says, box in places.items():
        band = part_of(block, whole, box, page.size[1])
        assert band.max() > 0, says
        looks[says] = look_of(band)
    assert len(looks) >= 10
    alike = [(one, other) for one, other in itertools.combinations(looks, 2) if not apart(looks[one], looks[other])]
    assert alike == [], {name: looks[name] for pair in alike for name in pair}


def words(page: Drawing, says: str) -> Text:
    (found,) = (text for text in page.texts() if text.says == says and text.height == LETTERS)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_kind_of_line_on_a_drawing_is_in_its_legend(name: str) -> None:
    """On the sheets of paper the legend stands on the first one."""
    for sheet in sheets_of(name):
        if sheet.kind != "marking-out":
            continue
        said = {text.says for page in sheet.pages for text in page.texts()}
        for says in entries(sheet.pages[-1].layers()):
            assert says in said, (sheet.paper, says)


@pytest.mark.parametrize(("name", "says"), [("redpoll", "rod"), ("pipit", "bars"), ("garganey", "rod, bars")])
def test_a_legend_names_only_what_is_drawn(name: str, says: str) -> None:
    """Of these three designs one has a rod alone, one a bar and no rod, one both."""
    layout = layout_of(name)
    assert (layout.rod is not None, bool(layout.bars)) == ("rod" in says, "bars" in says)
    for kind, paper in (("marking-out", "long"), ("cross-sections", "A4")):
        layers = tuple(layer for page in sheet_of(name, kind, paper).pages for layer in page.layers())
        assert [words for words in entries(layers) if "rod" in words or "bars" in words] == [says]
