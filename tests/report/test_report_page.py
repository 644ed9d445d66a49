"""The page in a real browser: quiet, legible, reachable by keyboard; whole without WebGL, without scripts, on paper."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from report_cases import DESK, PHONE, PLAIN, Opened, case, launched

Give = Callable[[str, tuple[int, int]], Opened]
REACHED = "input, button, canvas, a, [tabindex], [role]:not([role=status])"
NAMES = """reached => [...document.querySelectorAll(reached)].map(element => {
  const labels = element.labels ? [...element.labels].map(label => label.textContent).join(' ') : '';
  const name = element.getAttribute('aria-label') || labels || element.textContent ||
    (element.querySelector('title') || {}).textContent || '';
  return [element.outerHTML.slice(0, 80), name.trim()];
})"""

# Web Content Accessibility Guidelines 2.1, "relative luminance" and "contrast ratio"
CONTRAST = """() => {
  const numbers = text => text.match(/[\\d.]+/g).map(Number);
  const light = text => {
    const [r, g, b] = numbers(text).slice(0, 3).map(value => value / 255)
      .map(value => value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = element => {
    for (let at = element; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor, parts = numbers(colour);
      if (parts.length === 3 || parts[3] === 1) return colour;
    }
    return 'rgb(255, 255, 255)';
  };
  const found = [], walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode, element = node.parentElement;
    if (!node.textContent.trim() || ['SCRIPT', 'STYLE', 'title'].includes(element.tagName)) continue;
    const style = getComputedStyle(element), svg = element instanceof SVGElement;
    const one = light(svg ? style.fill : style.color), other = light(behind(element));
    const ratio = (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
    found.push([ratio, node.textContent.trim().slice(0, 40)]);
  }
  return found;
}"""


@pytest.mark.parametrize("name", ["redpoll", "thin", "wren"])
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_it_opens_without_an_error_or_a_request(opened_once: Give, name: str, size: tuple[int, int]) -> None:
    opened = opened_once(name, size)
    verdict = opened.page.locator(".verdict")
    assert verdict.is_visible()
    box = verdict.bounding_box()
    assert box["y"] + box["height"] < size[1]  # the verdict stands on the first screen
    assert verdict.locator("strong").first.text_content() == ("✗ FAIL" if name == "thin" else "✓ PASS")
    assert opened.page.evaluate("document.documentElement.scrollWidth") <= size[0]
    assert opened.wrong == []


def test_everything_that_can_be_reached_has_a_name(opened_once: Give) -> None:
    named = opened_once("redpoll", DESK).page.evaluate(NAMES, REACHED)
    assert len(named) > 80
    assert [html for html, name in named if not name] == []


def test_headings_go_down_one_step_at_a_time(opened_once: Give) -> None:
    page = opened_once("redpoll", DESK).page
    levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map(h => Number(h.tagName[1]))")
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_table_says_what_its_columns_are(opened_once: Give) -> None:
    plain = opened_once("redpoll", DESK).page.evaluate(
        "[...document.querySelectorAll('table')].filter(t => !t.caption || !t.tHead || "
        "[...t.tHead.querySelectorAll('th')].some(th => th.scope !== 'col' || !th.textContent.trim())).length"
    )
    assert plain == 0


@pytest.mark.parametrize("name", ["redpoll", "thin"])
def test_text_stands_out_from_what_is_behind_it(opened_once: Give, name: str) -> None:
    """At least 4.5 to 1: Web Content Accessibility Guidelines 2.1, criterion 1.4.3, level AA."""
    found = opened_once(name, DESK).page.evaluate(CONTRAST)
    assert len(found) > 500
    assert [pair for pair in found if pair[0] < 4.5] == []


def test_the_tab_key_goes_through_the_page_in_its_order(redpoll: Opened) -> None:
    """What to do first, the parts of the page, the checks, which Enter unfolds, and their places, then the view."""
    page = redpoll.page
    assert page.evaluate("[...document.querySelectorAll('[tabindex]')].every(e => e.tabIndex <= 0)")
    page.keyboard.press("Tab")
    skip = page.locator(".skip")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert skip.bounding_box()["x"] >= 0  # it shows itself once it is in focus
    seen = []
    for _ in range(90):
        page.keyboard.press("Tab")
        seen.append(
            page.evaluate(
                "(e => e.id || e.dataset.place && 'place' || e.dataset.look || e.dataset.family || e.hash || e.tagName)"
                "(document.activeElement)"
            )
        )
        if seen[-1] == "SUMMARY" and "place" not in seen:
            page.keyboard.press("Enter")
    assert seen[0] == "#work"
    stops = ("#work", "#findings", "#design", "SUMMARY", "place", "scene", "oblique", "neck", "tuner")
    order = [seen.index(name) for name in stops]
    assert order == sorted(order)
    page.locator("#scene").focus()
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert outline == "3px"


def test_without_webgl_the_drawings_remain_and_a_line_says_so(pages: Path, play: object) -> None:
    with (
        launched(play, (*PLAIN, "--disable-3d-apis")) as plain,
        Opened.of(plain, pages / "redpoll.html") as opened,
    ):
        page = opened.page
        assert page.locator("#view-none").is_visible()
        assert "WebGL" in page.locator("#view-none").text_content()
        assert not page.locator("#view-live").is_visible()
        assert page.locator("#drawings svg").first.is_visible()
        opened.unfold()
        page.locator("a.place").first.click()
        assert page.evaluate("location.hash") == "#drawings"
        assert opened.wrong == []


def test_without_scripts_everything_but_the_view_is_there(browser: object, pages: Path) -> None:
    with Opened.of(browser, pages / "redpoll.html", java_script_enabled=False) as opened:
        assert opened.page.locator("#view-none").is_visible()
        assert opened.page.locator("#drawings svg").count() > 8
        assert opened.page.locator("table.findings tbody tr").count() == len(case("redpoll").findings.findings)


def test_on_paper_the_drawings_stand_for_the_view(redpoll: Opened, tmp_path: Path) -> None:
    page = redpoll.page
    page.emulate_media(media="print")
    assert not page.locator("#view").is_visible()
    assert not page.locator("nav").is_visible()
    assert page.locator("#drawings svg").first.is_visible()
    paper = tmp_path / "paper.pdf"
    page.pdf(path=str(paper), format="A4")
    assert paper.read_bytes().count(b"/Type /Page\n") in range(8, 40)


def test_no_script_can_be_slipped_in(redpoll: Opened) -> None:
    """The page's own policy lets only its own scripts run: one put in later is refused."""
    page = redpoll.page
    page.evaluate("""() => { const script = document.createElement('script');
        script.textContent = 'window.slipped = true'; document.body.append(script); }""")
    assert page.evaluate("window.slipped") is None
    assert any("Content Security Policy" in says for says in redpoll.wrong)
    redpoll.wrong.clear()
