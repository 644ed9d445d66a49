"""The order of work of necks without frets, and of those without a rod: read aloud, sentence by sentence."""

from __future__ import annotations

import pytest
from kind_samples import FRETTED, KNOT, LINED, PLAIN, laid_out

from neckmodel.errors import ExportError
from neckmodel.layout.json.layout import layout_json
from neckmodel.sheets import KINDS, draw, draw_all
from neckmodel.sheets.marks.display import Text
from neckmodel.work.measures import measures
from neckmodel.work.order import order_of_work
from neckmodel.work.words import side_mark_words

FILLS = (
    "Glue a strip of maple, 0.60 mm thick, into each fret slot down to its floor, and once the glue has set plane and "
    "scrape it flush with the crown."
)


def _said(text: str) -> dict[str, str]:
    return {work.title: " ".join((*work.says, *work.checks)) for work in order_of_work(laid_out(text))}


def test_no_work_on_frets_is_told() -> None:
    """Neither sawn, nor pressed, nor levelled, nor measured over."""
    said = " ".join(_said(PLAIN).values())
    for word in ("fret slot", "fretted", "frets"):
        assert word not in said, word
    assert "Saw the fret slots" not in _said(PLAIN)["Make the fretboard"]
    assert FILLS in _said(LINED)["Make the fretboard"]
    assert "the 24 fret slots" in _said(LINED)["Make the fretboard"]
    assert FILLS not in _said(FRETTED)["Make the fretboard"]
    assert "fretted" not in " ".join(_said(LINED).values())


def test_what_fills_a_flat_fretboard_meets_no_crown() -> None:
    flat = LINED.replace("radius = {nut = 350.0, end = 450.0}", 'radius = "flat"')
    assert FILLS.replace("crown", "fretboard") in _said(flat)["Make the fretboard"]
    assert "crown" not in _said(flat)["Make the fretboard"]


def test_side_marks_are_told_with_their_places() -> None:
    plain, lined = (_said(text)["Plane the sides flush and carve the back"] for text in (PLAIN, LINED))
    assert "Side marks stand on the positions themselves, in the fretboard's bass-side edge: 3 at x 135.56 mm" in plain
    assert "Side marks stand between the lines, in the fretboard's bass-side edge: 3 at x 155.67 mm" not in lined
    assert "Side marks stand between the lines, in the fretboard's bass-side edge: 3 at x 114.26 mm" in lined
    assert side_mark_words(laid_out(FRETTED)) == ""


def test_marking_sheet_and_fretboard_sheet_tell_the_side_marks() -> None:
    for kind in ("marking-out", "fretboard"):
        drawn = " ".join(
            mark.says
            for sheet in draw(kind, laid_out(PLAIN), papers=("long",))
            for page in sheet.pages
            for mark in page.marks
            if isinstance(mark, Text)
        )
        assert "Side marks stand on the positions" in drawn, kind


def _layers(kind: str, text: str) -> set[str]:
    return {name for sheet in draw(kind, laid_out(text)) for page in sheet.pages for name in _names(page)}


def _names(page: object) -> list[str]:
    return [layer.name for layer in page.layers()]  # type: ignore[attr-defined]


def test_a_plain_fretboard_has_no_fret_slots_to_cut() -> None:
    assert "fret slots" not in _layers("fretboard", PLAIN)
    assert "fret slots" in _layers("fretboard", LINED)
    rows = [row.says for _, found in measures(laid_out(PLAIN)) for row in found]
    assert not any("fret slots" in says for says in rows)
    lined = [row.says for _, found in measures(laid_out(LINED)) for row in found]
    assert "line 12: x on the centre line" in lined


def test_without_a_channel_nothing_is_routed() -> None:
    said = _said(KNOT)
    assert list(said) == [
        "Saw out roughly, and let the wood rest",
        "True the blank",
        "Mark out",
        "Saw the side profile",
        "Cut the tenon",
        "Let it rest, and true the glue plane",
        "Saw the taper and the head's outline",
        "Make the fretboard",
        "Glue on the fretboard",
        "Plane the sides flush and carve the back",
        "Fit the neck to the body",
        "String up, and read the relief",
    ]
    told = " ".join(said.values())
    for word in ("rout", "channel", "fence", "adjuster", "rod "):
        assert word not in told, word
    cautions = " ".join(caution for work in order_of_work(laid_out(KNOT)) for caution in work.cautions)
    assert "adjuster" not in cautions
    assert "their ends whip" in cautions
    assert "Nothing in this neck sets its relief." in said["String up, and read the relief"]


def test_sheets_that_a_neck_without_a_channel_has_no_use_for() -> None:
    """Neither routing sheet nor pockets nor templates; its order of work is a sheet of its own."""
    bare, cut = laid_out(KNOT), laid_out(PLAIN)
    drawn = {sheet.kind for sheet in draw_all(bare)}
    assert drawn == set(KINDS) - {"routing", "pockets", "templates"}
    assert {sheet.kind for sheet in draw_all(cut)} == set(KINDS) - {"order-of-work"}
    with pytest.raises(ExportError, match="'routing' is not drawn: the neck has no channel; its order of work is"):
        draw("routing", bare)
    with pytest.raises(ExportError, match="'order-of-work' is not drawn"):
        draw("order-of-work", cut)


def test_data_of_a_neck_without_a_channel() -> None:
    data = layout_json(laid_out(KNOT))
    assert (data["rod"], data["bars"], data["channel"], data["walls_by_section"]) == (None, [], [], [])
