"""The view in three dimensions in a real browser, from a file address with the network off."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from report_cases import PHONE, Opened, case, cut_colour, painted

from neckmodel.report.view import placed

BACKGROUND = np.array([0xF6, 0xF3, 0xEC], float)
INK = np.array([0.16, 0.12, 0.08]) * 255  # of the hatching


def ink(picture: np.ndarray) -> int:
    return int((~painted(picture, BACKGROUND)).sum())


def test_part_switches_switch(redpoll: Opened) -> None:
    whole = ink(redpoll.picture())
    left = {}
    for family in ("fretboard", "neck", "tuner"):
        box = redpoll.page.locator(f"[data-family={family}]")
        box.uncheck()
        left[family] = ink(redpoll.picture())
        box.check()
    # the fretboard hides the neck under it, so that what is lost is its own height above it, and tuners stand free
    assert whole > 20_000
    assert all(0.3 * whole < count < 0.995 * whole for count in left.values()), left
    assert ink(redpoll.picture()) == whole
    redpoll.page.locator("[data-family=board]").check()
    assert ink(redpoll.picture()) > 1.2 * whole  # the stock was hidden at first


def test_a_section_shows_the_true_section_filled(redpoll: Opened) -> None:
    """From the head along the neck, width and depth of the cut face are those that the layout has at that x: all of it
    lies in one plane across the line of sight, so that one scale holds for it. Edges are lines
    of a pixel, 0.15 mm."""
    case_, x = case("redpoll"), 200.0
    neck, board = cut_colour(case_.parts, "neck"), cut_colour(case_.parts, "fretboard")
    redpoll.look("head")
    before = redpoll.picture()
    assert not painted(before, neck).any()
    redpoll.cut("x", x)
    for _ in range(5):
        redpoll.page.locator("[data-zoom=in]").click()
    picture = redpoll.picture()
    assert (picture != before).any(axis=2).mean() > 0.02
    rows, columns = np.nonzero(painted(picture, neck))
    over, across = np.nonzero(painted(picture, board))
    hatched = np.nonzero(painted(picture, INK).any(axis=1))[0]  # a line may lie along the lowest edge
    layout = case_.parts.layout
    wide, deep = 2 * layout.back.half_width(x), layout.back.depth(x)
    per_mm = (columns.max() - columns.min() + 1) / wide
    lowest = max(rows.max(), hatched.max())
    assert per_mm > 6.0
    assert (lowest - rows.min() + 1) / per_mm == pytest.approx(deep, rel=0.02)
    assert (across.max() - across.min() + 1) / per_mm == pytest.approx(2 * layout.fretboard.half_width(x), rel=0.02)
    assert (over.max() - over.min() + 1) / per_mm == pytest.approx(layout.fretboard.thickness, rel=0.05)
    assert over.max() <= rows.min() + 2  # the fretboard lies on the neck
    says = redpoll.page.locator("#cut-says").text_content()
    assert says == "x 200.0 mm, body side of fret 6"


def test_cut_faces_are_hatched_and_each_part_in_its_own_way(redpoll: Opened) -> None:
    """Colour is not the only sign: dark lines cross each face, and slope otherwise in neck and fretboard."""
    redpoll.look("head")
    redpoll.cut("x", 200.0)
    picture, slopes = redpoll.picture(), {}
    for part in ("neck", "fretboard"):
        filled = painted(picture, cut_colour(case("redpoll").parts, part))
        rows, columns = np.nonzero(filled)
        middle = filled[(rows.min() + rows.max()) // 2, columns.min() : columns.max()]
        assert 0.05 < 1 - middle.mean() < 0.6, part
        field = filled.astype(float)[rows.min() + 3 : rows.max() - 3, columns.min() + 20 : columns.max() - 20]
        down_right = (field[1:, 1:] == field[:-1, :-1]).mean()
        down_left = (field[1:, :-1] == field[:-1, 1:]).mean()
        slopes[part] = down_right > down_left
    assert slopes["neck"] != slopes["fretboard"]


@pytest.mark.parametrize(("axis", "look"), [("y", "minus"), ("z", "top")])
def test_the_other_sections_cut_too(redpoll: Opened, axis: str, look: str) -> None:
    neck = cut_colour(case("redpoll").parts, "neck")
    redpoll.look(look)
    redpoll.cut(axis, -3.0 if axis == "z" else 8.0)
    kept = painted(redpoll.picture(), neck).sum()
    assert kept > 2000
    redpoll.page.locator("#cut-flip").check()  # the other side, whose cut face looks away
    assert painted(redpoll.picture(), neck).sum() < kept / 20
    redpoll.cut("none")
    assert not painted(redpoll.picture(), neck).any()


def test_a_findings_link_moves_the_camera_and_marks_the_place(redpoll: Opened) -> None:
    before = redpoll.eye()
    findings = placed(case("redpoll").findings)
    number = next(n for n, found in enumerate(findings) if found.check == "wall/run")
    at = findings[number].at
    assert at is not None
    redpoll.unfold()  # what passes is folded
    redpoll.page.locator(f"[data-place='{number}']").click()
    eye = redpoll.eye()
    assert np.linalg.norm(eye - before) > 100.0
    assert np.linalg.norm(eye - [at.x, at.y, at.z]) == pytest.approx(230.0, abs=0.1)
    label = redpoll.page.locator("#mark")
    assert label.is_visible()
    assert label.text_content() == "PASS wall/run 4.88 mm"
    # the place stands in the middle of the view, the label beside it
    stage, box = redpoll.page.locator("#stage").bounding_box(), label.bounding_box()
    assert box["x"] - stage["x"] - stage["width"] / 2 == pytest.approx(14.0, abs=2.0)
    assert box["y"] + box["height"] / 2 - stage["y"] - stage["height"] / 2 == pytest.approx(0.0, abs=2.0)
    red = painted(redpoll.picture(), np.array([0xB0, 0x00, 0x20]))
    rows, columns = np.nonzero(red[:, : int(stage["width"] / 2 + 12)])
    assert columns.mean() == pytest.approx(stage["width"] / 2, abs=2.0)
    assert rows.mean() == pytest.approx(stage["height"] / 2, abs=2.0)
    said = redpoll.page.locator("#marked").text_content()
    assert said.startswith("Marked: PASS wall/run 4.88 mm, at x 16.9")
    redpoll.page.get_by_role("button", name="cut across here").click()
    assert redpoll.page.locator("#cut-number").input_value() == f"{round(at.x, 1):g}"
    assert painted(redpoll.picture(), cut_colour(case("redpoll").parts, "neck")).sum() > 2000
    redpoll.page.get_by_role("button", name="clear the mark").click()
    redpoll.drawn()
    assert not label.is_visible()


def test_mouse_turns_and_the_wheel_zooms_only_once_the_view_is_meant(redpoll: Opened) -> None:
    page = redpoll.page
    page.evaluate("document.getElementById('view').scrollIntoView()")
    box = page.locator("#scene").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    before = redpoll.eye()
    page.mouse.move(x, y)
    page.mouse.wheel(0, 120)
    redpoll.until(f"document.getElementById('scene').getBoundingClientRect().top < {box['y'] - 50}")
    assert redpoll.eye() == pytest.approx(before)  # the page moved, the neck did not
    page.evaluate("document.getElementById('view').scrollIntoView()")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 120, y + 40, steps=4)
    page.mouse.up()
    turned = redpoll.eye()
    assert np.linalg.norm(turned - before) > 50.0
    page.mouse.wheel(0, -240)
    now = " ".join(f"{value:.2f}" for value in turned)
    redpoll.until(f"document.getElementById('scene').dataset.eye !== '{now}'")
    assert np.linalg.norm(redpoll.eye() - turned) > 10.0


def test_keys_turn_zoom_and_go_home(redpoll: Opened) -> None:
    """An arrow turns the neck as a finger would that drags it that way, by 5 degrees: sideways about the upright line
    through its middle, so that the eye keeps its height and its distance from that line. A zoom scales both."""
    page, start = redpoll.page, redpoll.eye()
    shown = [part for part in case("redpoll").findings.parts if part.name not in ("board", "blank")]
    low, high = np.array([part.bounds[:3] for part in shown]), np.array([part.bounds[3:] for part in shown])
    middle = (low.min(axis=0) + high.max(axis=0)) / 2
    page.locator("#scene").focus()
    page.keyboard.press("ArrowLeft")
    turned = redpoll.eye()
    assert turned[2] == pytest.approx(start[2], abs=0.02)
    assert turned[0] > start[0]
    one, other = (start - middle)[:2], (turned - middle)[:2]
    assert np.hypot(*other) == pytest.approx(np.hypot(*one), rel=1e-3)
    between = one @ other / (np.hypot(*one) * np.hypot(*other))
    assert np.degrees(np.arccos(between)) == pytest.approx(5.0, abs=0.05)
    page.keyboard.press("ArrowDown")
    assert redpoll.eye()[2] > turned[2] + 10.0
    page.keyboard.press("ArrowUp")
    assert redpoll.eye() == pytest.approx(turned, abs=0.05)
    page.keyboard.press("+")
    assert redpoll.eye() - middle == pytest.approx(0.87 * (turned - middle), abs=0.3)
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Home")
    assert redpoll.eye() == pytest.approx(start, abs=0.02)


def test_the_section_works_by_keyboard_alone(redpoll: Opened) -> None:
    page = redpoll.page
    page.locator("[name=cut][value=none]").focus()
    page.keyboard.press("ArrowDown")
    assert page.locator("[name=cut][value=x]").is_checked()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "cut-slider"
    page.keyboard.press("ArrowRight")
    assert page.locator("#cut-number").input_value() == "0.1"
    page.keyboard.press("Tab")
    page.keyboard.type("3")  # typed before the number that stands there, or in its place
    assert float(page.locator("#cut-number").input_value()) >= 3.0


def test_on_a_phone_a_finger_turns_the_view(browser: object, pages: Path) -> None:
    with Opened.of(browser, pages / "redpoll.html", PHONE, is_mobile=True, has_touch=True) as phone:
        phone.ready()
        page = phone.page
        page.evaluate("document.getElementById('view').scrollIntoView()")
        before = phone.eye()
        box = page.locator("#scene").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        session = page.context.new_cdp_session(page)
        for kind, at in (("touchStart", x), ("touchMove", x + 40), ("touchMove", x + 80), ("touchEnd", None)):
            points = [] if at is None else [{"x": at, "y": y}]
            session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        assert np.linalg.norm(phone.eye() - before) > 50.0
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE[0]  # nothing sticks out at the side
        phone.tapped("#findings summary", "document.querySelector('#findings details').open")
        phone.tapped("[data-place='0']", "!document.getElementById('mark').hidden")
        assert page.locator("#mark").is_visible()
        assert phone.wrong == []


def test_in_inches_the_view_says_inches(browser: object, pages: Path) -> None:
    with Opened.of(browser, pages / "wren.html") as wren:
        wren.ready()
        wren.cut("x", 101.6)
        assert wren.page.locator("#cut-says").text_content() == "x 101.6 mm = 4.000 in, body side of fret 3"
        wren.page.locator("[data-place='0']").click()
        said = wren.page.locator("#marked").text_content()
        # 0.6 in from the wood's end, 8 mm past fret 20 of a scale of 24 5/16 in: 24.3125 (1 - 2^(-20/12)) + 0.315 - 0.6
        assert said.startswith("Marked: WARN heel/screws 0.700 in (45/64), at x 16.369 in, fret 19;")
        assert wren.wrong == []


def test_a_section_chosen_after_a_finding_goes_through_its_place(redpoll: Opened) -> None:
    """Across, along and level: each cut lies at the marked place. (It lay at x = 0 before, out of sight.)"""
    case_ = case("redpoll")
    findings = placed(case_.findings)
    number = next(n for n, found in enumerate(findings) if found.check == "wall/run")
    at = findings[number].at
    assert at is not None
    redpoll.unfold()
    redpoll.page.locator(f"[data-place='{number}']").click()
    neck = cut_colour(case_.parts, "neck")
    redpoll.cut("x")
    assert redpoll.page.locator("#cut-number").input_value() == f"{round(at.x, 1):g}"
    assert painted(redpoll.picture(), neck).sum() > 2000
    for axis in ("y", "z"):
        redpoll.cut(axis)
        assert redpoll.page.locator("#cut-number").input_value() == f"{round(getattr(at, axis), 1):g}"
