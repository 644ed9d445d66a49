"""Widths of words and heights of capitals against the font file itself, and the breaking of lines."""

from __future__ import annotations

from pathlib import Path

import pytest
import reportlab
from fontTools.ttLib import TTFont as FontFile
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from neckmodel.sheets.marks.display import Text
from neckmodel.sheets.marks.layers import TEXT
from neckmodel.sheets.marks.lettering import BELOW, CAPITAL, WIDTHS, plain, size_of, text_box, width, wrap
from neckmodel.writers.drawings.pdf import FONT_FILE

FONT = Path(reportlab.__file__).parent / "fonts" / FONT_FILE


def test_every_width_is_the_fonts() -> None:
    pdfmetrics.registerFont(TTFont("Measured", str(FONT)))
    for letter, thousandths in WIDTHS.items():
        assert pdfmetrics.stringWidth(letter, "Measured", 1000) == pytest.approx(thousandths, abs=0.51)


def test_capitals_and_descenders_are_the_fonts() -> None:
    font = FontFile(FONT)
    em = font["head"].unitsPerEm
    assert font["glyf"]["H"].yMax / em == pytest.approx(CAPITAL, abs=5e-4)
    assert -min(font["glyf"][letter].yMin for letter in "gjpqy") / em <= BELOW


def test_a_box_round_words() -> None:
    """ "run" 2 mm high: r 411, u 634, n 634 thousandths of 2/0.729 mm, so 4.606 mm."""
    along = 1.679 * 2 / 0.729
    assert width("run", 2.0) == pytest.approx(along)
    low = -0.236 * 2 / 0.729
    assert text_box(Text(TEXT, (10.0, 20.0), "run", 2.0)) == pytest.approx((10, 20 + low, 10 + along, 22))
    assert text_box(Text(TEXT, (10.0, 20.0), "run", 2.0, "end")) == pytest.approx((10 - along, 20 + low, 10, 22))
    turned = text_box(Text(TEXT, (10.0, 20.0), "run", 2.0, "middle", 90.0))
    assert turned == pytest.approx((8, 20 - along / 2, 10 - low, 20 + along / 2))
    assert size_of(0.729) == pytest.approx(1.0)


@given(st.text(max_size=80), st.floats(3, 60))
def test_lines_are_no_wider_than_their_room(text: str, room: float) -> None:
    lines = wrap(text, 2.0, room)
    assert all(len(line) <= 1 or width(line, 2.0) <= room for line in lines)
    assert "".join(lines).replace(" ", "") == plain(text).replace(" ", "")


def test_letters_that_the_drawings_lack() -> None:
    assert plain("Größe  ±0.1\n") == "Größe ±0.1"
    assert plain("Zażółć") == "Zazó?c"
    assert plain("漢") == "?"
