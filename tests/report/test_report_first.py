"""What a maker sees first, what is folded away, and what a reader by other means gets."""

from __future__ import annotations

from pathlib import Path

import pytest
from neck_runs import design
from report_cases import PHONE, Opened, case
from shapely.geometry import LineString, box

from neckmodel import presets
from neckmodel.findings import Finding
from neckmodel.layout import Layout, lay_out
from neckmodel.report import words
from neckmodel.report.drawings import plan_drawing, side_drawing
from neckmodel.sheets import layers
from neckmodel.sheets.display import Drawing, Text
from neckmodel.sheets.display import Path as Line
from neckmodel.sheets.lettering import text_box

SCREENS = [(1280, 800), PHONE]
LEADERS = (layers.STATIONS, layers.FRETS, layers.STOPS, layers.DATUM)
MARGIN = 0.15  # mm, a leader that only touches the air round letters does not count


@pytest.mark.parametrize("name", ["redpoll", "thin", "wren"])
@pytest.mark.parametrize("size", SCREENS, ids=["desk", "phone"])
def test_verdict_first_thing_to_do_and_picture_stand_on_the_first_screen(
    browser: object, pages: Path, name: str, size: tuple[int, int]
) -> None:
    with Opened.of(browser, pages / f"{name}.html", size) as opened:
        for what in (".verdict", ".first", "figure.picture svg"):
            place = opened.page.locator(what).first.bounding_box()
            assert place["y"] >= 0, what
            assert place["y"] + place["height"] <= size[1], what
        assert "First" in opened.page.locator(".first").first.text_content()


def test_the_first_thing_to_do_is_the_change_for_the_first_finding(browser: object, pages: Path) -> None:
    with Opened.of(browser, pages / "thin.html") as opened:
        first = next(found for found in case("thin").findings.findings if found.verdict == "fail")
        assert first.remedy is not None
        assert first.remedy.says in opened.page.locator(".first").first.text_content()
        assert opened.page.locator(".first code").text_content().startswith("--set ")


def test_passes_are_folded_and_the_rest_is_not(redpoll: Opened) -> None:
    page, findings = redpoll.page, case("redpoll").findings.findings
    many = sum(found.verdict == "pass" for found in findings)
    assert page.locator("#findings details summary").text_content() == f"{many} checks pass"
    rows = page.locator("#findings tbody tr")
    assert rows.count() == len(findings)
    seen = [rows.nth(k).is_visible() for k in range(rows.count())]
    assert sum(seen) == len(findings) - many
    page.locator("#findings summary").click()
    assert all(rows.nth(k).is_visible() for k in range(rows.count()))


def test_a_phone_scrolls_less_than_half_as_far_as_it_did(browser: object, pages: Path) -> None:
    """19,000 pixels, half of what the page was before anything was folded."""
    for name in ("redpoll", "thin"):
        with Opened.of(browser, pages / f"{name}.html", PHONE) as opened:
            assert opened.page.evaluate("document.documentElement.scrollHeight") < 19_000


def test_a_piece_of_work_is_folded_on_a_phone_and_open_on_a_desk(browser: object, pages: Path) -> None:
    for size, opens in ((SCREENS[0], True), (PHONE, False)):
        with Opened.of(browser, pages / "redpoll.html", size) as opened:
            pieces = opened.page.locator("details.piece")
            assert pieces.count() > 5
            assert all(pieces.nth(k).evaluate("piece => piece.open") == opens for k in range(pieces.count()))


def test_what_is_folded_is_printed(redpoll: Opened) -> None:
    page = redpoll.page
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.evaluate("[...document.querySelectorAll('details')].every(fold => fold.open)")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert not page.evaluate("[...document.querySelectorAll('details')].every(fold => fold.open)")


def test_a_plan_fits_its_frame_on_a_desk(browser: object, pages: Path) -> None:
    with Opened.of(browser, pages / "redpoll.html", (1280, 800)) as opened:
        wider = "[...document.querySelectorAll('.drawing')].map(frame => frame.scrollWidth - frame.clientWidth)"
        assert set(opened.page.evaluate(wider)) == {0}


def test_nothing_stands_over_text(browser: object, pages: Path) -> None:
    """No element of the page stays over the others while it scrolls: on a phone it would cover what one reads."""
    for size in SCREENS:
        with Opened.of(browser, pages / "redpoll.html", size) as opened:
            fixed = (
                "[...document.querySelectorAll('body *')]"
                ".filter(e => ['fixed', 'sticky'].includes(getComputedStyle(e).position)).length"
            )
            assert opened.page.evaluate(fixed) == 0


@pytest.mark.parametrize("name", ["redpoll", "thin"])
@pytest.mark.parametrize("size", SCREENS, ids=["desk", "phone"])
def test_the_accessibility_rules_of_axe_hold(browser: object, pages: Path, name: str, size: tuple[int, int]) -> None:
    """axe-core's rules, those of best practice too; the text of the rules: Web Content Accessibility Guidelines 2.1."""
    from axe_playwright_python.sync_playwright import Axe

    with Opened.of(browser, pages / f"{name}.html", size, bypass_csp=True) as opened:
        opened.ready()
        found = Axe().run(opened.page).response["violations"]
        assert [(each["impact"], each["id"], each["nodes"][0]["html"][:120]) for each in found] == []


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
        (3.0, 3.005, "mm", "3.00 mm", "3.005 mm"),  # as it was stated
    ],
)
def test_numbers_have_the_decimals_of_their_unit(measured: float, limit: float, unit: str, says: str, at: str) -> None:
    finding = Finding("wall/run", "neck", "pass", "", measured=measured, limit=limit, unit=unit)
    assert words.measured(finding, "mm") == says
    assert words.limit(finding, "mm") == at
