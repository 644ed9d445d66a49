"""Tuners and screws on the marking-out sheet: x, y and diameter of each, beside it in plan and in a list."""

from __future__ import annotations

import math
import re

import pytest
from sheet_cases import INCHES, ROUTED, layout_of

from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets import draw
from neckmodel.sheets.marks.display import Text
from neckmodel.sheets.marks.lettering import text_box
from neckmodel.sheets.views.holes import REACHES, holes

LEFT = 'design.hand="left"'
# curlew's tuners are bored in from the sides, and it has no screws
CASES = (*((name,) for name in ROUTED), ("redpoll", LEFT), ("garganey", LEFT), (INCHES, LEFT))


@pytest.mark.parametrize("case", CASES, ids=lambda case: "-".join(case)[:14])
def test_beside_each_hole_stand_its_name_y_and_diameter(case: tuple[str, ...]) -> None:
    layout = layout_of(*case)
    unit = layout.design.design.units
    texts = draw("marking-out", layout, None, ("long",))[0].pages[0].texts()
    clamp = layout.design.head.clamp
    stated = len(layout.design.head.tuners) + len(layout.design.heel.screws) + (len(clamp.screws) if clamp else 0)
    found = holes(layout)
    assert len(found) == stated
    for hole in found:
        x, y = hole.at
        name = next(text for text in texts if text.says == hole.name)
        about = [text for text in texts if near(text, name)]
        assert with_unit(y, unit) in " ".join(text.says for text in about), hole.name
        assert f"{tool_size(hole.across, unit)} across" in [text.says for text in about]
        x0, y0, x1, y1 = text_box(name)
        assert math.hypot(max(x0 - x, x - x1, 0.0), max(y0 - y, y - y1, 0.0)) < REACHES[-1]


def near(text: Text, name: Text) -> bool:
    return text.height == name.height and math.dist(text.at, name.at) < 3 * 1.6 * name.height


def test_the_numbers_are_the_designs() -> None:
    """redpoll states its first tuner 40 from the head line (-6), on the bass side by 15, in a hole of 10; its
    left-handed twin has the same hole at y +15."""
    for over, y in (((), "-15.00 mm"), ((LEFT,), "15.00 mm")):
        layout = layout_of("redpoll", *over)
        for paper in ("long", "A4"):
            said = [text.says for page in draw("marking-out", layout, None, (paper,))[0].pages for text in page.texts()]
            if paper == "A4":
                row = said[said.index("tuner 1") : said.index("tuner 1") + 5]
                assert row == ["tuner 1", "-46.00 mm", y, "10.00 mm", "through"]
            else:
                assert f"tuner 1: x -46.00 mm, y {y}, 10.00 mm across, through" in said


def test_inches_are_told_with_fractions() -> None:
    said = [text.says for text in draw("marking-out", layout_of(INCHES), None, ("long",))[0].pages[0].texts()]
    assert any(re.fullmatch(r"y -0\.650 in \(-21/32\)", words) for words in said)
