"""What a maker sees first, what is folded away, and what a reader by other means gets."""

from __future__ import annotations

from collections.abc import Callable
from importlib.metadata import files
from pathlib import Path

import pytest
from neck_runs import design
from report_cases import DESK, PHONE, Opened, case
from shapely.geometry import LineString, box

from neckmodel import presets
from neckmodel.findings import Finding
from neckmodel.layout import Layout, lay_out
from neckmodel.report import words
from neckmodel.report.drawings import plan_drawing, side_drawing
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.display import Drawing, Text
from neckmodel.sheets.marks.display import Path as Line
from neckmodel.sheets.marks.lettering import text_box

SCREENS = [DESK, PHONE]
Give = Callable[[str, tuple[int, int]], Opened]
LEADERS = (layers.STATIONS, layers.FRETS, layers.STOPS, layers.DATUM)
MARGIN = 0.15  # mm, a leader that only touches the air round letters does not count


def axe() -> str:
    """The script of axe-core. Its package is not imported: it reads this file in the locale's encoding."""
    script = next(each for each in files("axe-playwright-python") or () if each.name == "axe.min.js")
    return Path(str(script.locate())).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["redpoll", "thin", "wren"])
@pytest.mark.parametrize("size", SCREENS, ids=["desk", "phone"])
def test_verdict_first_thing_to_do_and_picture_stand_on_the_first_screen(
    opened_once: Give, name: str, size: tuple[int, int]
) -> None:
    opened = opened_once(name, size)
    for what in (".verdict", ".first", "figure.picture svg"):
        place = opened.page.locator(what).first.bounding_box()
        assert place["y"] >= 0, what
        assert place["y"] + place["height"] <= size[1], what
    assert "First" in opened.page.locator(".first").first.text_content()


def test_the_first_thing_to_do_is_the_change_for_the_first_finding(opened_once: Give) -> None:
    page = opened_once("thin", DESK).page
    first = next(found for found in case("thin").findings.findings if found.verdict == "fail")
    assert first.remedy is not None
    assert first.remedy.says in page.locator(".first").first.text_content()
    assert page.locator(".first code").text_content().startswith("--set ")


def test_passes_are_folded_and_the_rest_is_not(redpoll: Opened) -> None:
    page, findings = redpoll.page, case("redpoll").findings.findings
    many = sum(found.verdict == "pass" for found in findings)
    assert page.locator("#findings details summary").text_content() == f"{many} checks pass"
    rows = page.locator("#findings tbody tr")
    assert rows.count() == len(findings)
    seen = [rows.nth(k).is_visible() for k in range(rows.count())]
    assert sum(seen) == len(findings) - many
    redpoll.unfold()
    assert all(rows.nth(k).is_visible() for k in range(rows.count()))


def test_a_phone_scrolls_less_than_half_as_far_as_it_did(opened_once: Give) -> None:
    """19,000 pixels, half of what the page was before anything was folded."""
    for name in ("redpoll", "thin"):
        assert opened_once(name, PHONE).page.evaluate("document.documentElement.scrollHeight") < 19_000


def test_a_piece_of_work_is_folded_on_a_phone_and_open_on_a_desk(opened_once: Give) -> None:
    for size, opens in ((DESK, True), (PHONE, False)):
        pieces = opened_once("redpoll", size).page.locator("details.piece")
        assert pieces.count() > 5
        assert all(pieces.nth(k).evaluate("piece => piece.open") == opens for k in range(pieces.count()))


def test_what_is_folded_is_printed(redpoll: Opened) -> None:
    page = redpoll.page
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.evaluate("[...document.querySelectorAll('details')].every(fold => fold.open)")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert not page.evaluate("[...document.querySelectorAll('details')].every(fold => fold.open)")


def test_a_plan_fits_its_frame_on_a_desk(opened_once: Give) -> None:
    wider = "[...document.querySelectorAll('.drawing')].map(frame => frame.scrollWidth - frame.clientWidth)"
    assert set(opened_once("redpoll", DESK).page.evaluate(wider)) == {0}


def test_nothing_stands_over_text(opened_once: Give) -> None:
    """No element of the page stays over the others while it scrolls: on a phone it would cover what one reads."""
    fixed = (
        "[...document.querySelectorAll('body *')]"
        ".filter(e => ['fixed', 'sticky'].includes(getComputedStyle(e).position)).length"
    )
    for size in SCREENS:
        assert opened_once("redpoll", size).page.evaluate(fixed) == 0


@pytest.mark.parametrize("name", ["redpoll", "thin"])
@pytest.mark.parametrize("size", SCREENS, ids=["desk", "phone"])
def test_the_accessibility_rules_of_axe_hold(opened_once: Give, name: str, size: tuple[int, int]) -> None:
    """axe-core's rules, those of best practice too; the text of the rules: Web Content Accessibility Guidelines 2.1."""
    page = opened_once(name, size).page
    page.evaluate(axe())
    found = page.evaluate("axe.run({resultTypes: ['violations']})")
    assert [(each["impact"], each["id"], each["nodes"][0]["html"][:120]) for each in found["violations"]] == []
    assert {"color-contrast", "heading-order", "label", "landmark-one-main"} <= {each["id"] for each in found["passes"]}


@pytest.mark.parametrize("name", presets.names())
@pytest.mark.parametrize("draw", [plan_drawing, side_drawing])
def test_labels_keep_clear_of_each_other_and_of_leaders(name: str, draw: object) -> None:
    layout: Layout = lay_out(design(name))
    drawing: Drawing = draw(layout)  # type: ignore[operator]
    texts = [(mark.says, box(*text_box(mark))) for mark in drawing.marks if isinstance(mark, Text)]
    assert len(texts) > 3
    frame = box(*drawing.box)
    assert [says for says, place in texts if not frame.contains(place)] == []
    over = [
        (a, b) for k, (a, one) in enumerate(texts) for b, other in texts[k + 1 :] if one.intersection(other).area > 0.01
    ]
    assert over == []
    leaders = [
        LineString(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Line) and not mark.closed and mark.layer in LEADERS
    ]
    crossed = [says for says, place in texts for line in leaders if line.intersects(place.buffer(-MARGIN))]
    assert crossed == []


@pytest.mark.parametrize(
    ("measured", "limit", "unit", "says", "at"),
    [
        (0.2 + 1e-9, 0.2, "mm", "0.20 mm", "0.20 mm"),  # was 0.20000
        (0.81, 1.05623, "mm", "0.81 mm", "1.06 mm"),  # was 1.0562
        (2.998, 3.0, "mm", "2.998 mm", "3.00 mm"),  # told apart by one decimal more
        (0.0, 0.0001, "mm", "0.0000 mm", "0.0001 mm"),  # a limit is never told as nothing
        (0.96, 0.75, "share", "0.96 share", "0.75 share"),
        (3.0, 3.005, "mm", "3.000 mm", "3.005 mm"),  # the limit as it was stated, the value beside it to the same digit
    ],
)
def test_numbers_have_the_decimals_of_their_unit(measured: float, limit: float, unit: str, says: str, at: str) -> None:
    finding = Finding("wall/run", "neck", "pass", "", measured=measured, limit=limit, unit=unit)
    assert words.measured(finding, "mm") == says
    assert words.limit(finding, "mm") == at
