"""What the order of work, the measures and the order list say of a rod turned through the soundhole, and what is drawn
of it. No CAD kernel."""

from __future__ import annotations

import math

import pytest
from soundhole_samples import IN_WOOD, L_KEY, design, laid_out

from neckmodel.design import read_text
from neckmodel.design.reading.units import convert
from neckmodel.layout import lay_out
from neckmodel.report.drawings import side_drawing
from neckmodel.report.materials import order_list
from neckmodel.sheets.kinds.marking import station_dimensions
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.display import Circle, Drawing, Mark, Path, Text, Window
from neckmodel.sheets.registry import draw
from neckmodel.sheets.views.body import body_sections, body_words
from neckmodel.work.measures import measures
from neckmodel.work.order import Work, order_of_work


def step(title: str, *overrides: str) -> Work:
    return next(work for work in order_of_work(laid_out(*overrides)) if work.title == title)


def test_the_body_is_bored_before_the_neck_is_glued_in() -> None:
    titles = [work.title for work in order_of_work(laid_out())]
    assert titles.index("Bore the body for the key") < titles.index("Fit the neck to the body")
    assert "Bore the body for the key" not in [w.title for w in order_of_work(laid_out("adjusting_key.enters=face"))]


def test_the_bore_is_told_with_its_numbers() -> None:
    said = " ".join(step("Bore the body for the key").says)
    assert "The adjuster's bore: 7.30 mm in diameter, a drill of 7.30 mm, from x 381.02 mm to 399.00 mm" in said
    assert "The key's bore: 6.67 mm in diameter, a drill of 6.70 mm, from x 399.00 mm to 452.00 mm" in said
    assert "Through brace 1: x 428.00 mm to 442.00 mm, for the key; it keeps 2.56 mm of wood over" in said
    assert "6.62 mm under it" in said
    assert "9.34 mm below the top's upper side: that is 9.60 mm below the glue plane" in said
    assert "0.60 deg nearer to the top" in said
    level = " ".join(step("Bore the body for the key", "action.bridge_height=10.7").says)
    assert "deg" not in level


def test_in_inches_it_is_told_in_inches() -> None:
    layout = lay_out(read_text(convert(design(), "in").text))
    work = next(work for work in order_of_work(layout) if work.title == "Bore the body for the key")
    said = " ".join(work.says)
    assert layout.soundhole_way is not None
    assert f"The key's bore: {layout.soundhole_way.diameter / 25.4:.3f} in" in said
    assert " mm" not in said


def test_cautions_stand_beside_the_drill() -> None:
    assert any(caution.startswith("Drill:") for caution in step("Bore the body for the key").cautions)
    assert any(caution.startswith("Dust:") for caution in step("Bore the body for the key").cautions)


def test_the_key_is_tried_through_the_soundhole_before_the_glue() -> None:
    checks = " ".join(step("Fit the neck to the body").checks)
    assert "dry, with the rod in its channel: the key goes in through the soundhole" in checks
    assert "through the soundhole and the bore" in " ".join(step("String up, and set the relief").says)
    assert "Its other arm hangs down." in " ".join(step("Try the key", *L_KEY).says)


def test_what_is_measured_after_boring() -> None:
    """The middle of the bore under the top: the axis, less how far the top has come down at the tenon's end."""
    ((_, rows),) = [group for group in measures(laid_out()) if group[0] == "After boring the body"]
    by_name = {row.says: row for row in rows}
    middle = by_name["bore for the adjuster: its middle under the top's upper side, where it starts"]
    assert middle.nominal == pytest.approx(9.6 - 25.0 * math.tan(math.radians(0.6)), abs=1e-4)
    assert (middle.low, middle.high) == (pytest.approx(middle.nominal - 0.25), pytest.approx(middle.nominal + 0.25))
    assert by_name["bore for the key: diameter, at least"].low == pytest.approx(6.67)
    assert by_name["brace 1: wood under the bore, at least"].low == 3.0
    assert by_name["key: length, at least"].low == 83.0


def test_the_order_list_has_a_drill_that_reaches() -> None:
    drills = [row for row in order_list(laid_out(*IN_WOOD)) if row[0] == "drill for the body"]
    assert drills == [
        (
            "drill for the body",
            "1",
            "6.70 mm in diameter, reaching at least 51.98 mm",
            "the key's bore, from the neck's pocket",
        )
    ]


def marks_on(layer: str, drawing: Drawing) -> list[Mark]:
    return [mark for mark in drawing.marks if not isinstance(mark, Window) and mark.layer.name == layer]


def test_the_side_view_draws_the_bore_to_scale() -> None:
    drawn = [mark for mark in marks_on(layers.BORE.name, side_drawing(laid_out(*IN_WOOD))) if isinstance(mark, Path)]
    (bore,) = drawn
    xs, zs = zip(*bore.points, strict=True)
    assert (min(xs), max(xs)) == (pytest.approx(390.0215, abs=1e-3), 452.0)
    assert (min(zs), max(zs)) == (pytest.approx(-9.6 - 3.335), pytest.approx(-9.6 + 3.335))


def test_the_plan_draws_the_soundhole_s_edge_and_the_braces() -> None:
    (sheet,) = draw("marking-out", laid_out(), papers=("long",))
    lines = [m for m in marks_on(layers.BODY.name, sheet.pages[0]) if isinstance(m, Path)]
    edge = max(lines, key=lambda path: len(path.points))
    for x, y in edge.points:  # an ellipse about (502, 0), 100 long and 100 wide
        assert ((x - 502) / 50) ** 2 + (y / 50) ** 2 == pytest.approx(1.0, abs=1e-9)
    upright = {
        round(path.points[0][0], 2)
        for path in lines
        if len(path.points) == 2 and path.points[0][0] == path.points[1][0]
    }
    assert {404.0, 428.0, 442.0} <= upright


def test_sections_through_block_and_brace_stand_on_their_sheet() -> None:
    layout = laid_out()
    names = [section.name for section in body_sections(layout)]
    assert names == [
        "the body's block, bored for the adjuster",
        "the body's block, bored for the key",
        "brace 1, bored for the key",
    ]
    facts = " ".join(body_words(layout, body_sections(layout)[-1], "mm"))
    assert "2.56 mm over the bore, 6.62 mm under it" in facts
    sheets = draw("cross-sections", layout)
    words = [mark.says for page in sheets[0].pages for mark in page.marks if isinstance(mark, Text)]
    assert any("brace 1, bored for the key" in said for said in words)
    rounds = [
        m for page in sheets[0].pages for m in page.marks if isinstance(m, Circle) and m.layer.name == layers.BORE.name
    ]
    assert [m.radius for m in rounds] == pytest.approx([7.3, 6.67, 6.67])  # drawn 2:1


def test_stations_of_the_body_are_marked_from_the_nut() -> None:
    said = " ".join(each.says for each in station_dimensions(laid_out()))
    for station in ("body's block ends: 404.00 mm", "brace 1 begins: 428.00 mm", "soundhole begins: 452.00 mm"):
        assert station in said


def test_the_pockets_for_machines_hold_the_slot_and_nothing_of_the_body() -> None:
    sheet = draw("pockets", laid_out(*IN_WOOD))[0]
    assert sheet.table is not None
    reach = max(point[0] for mark in sheet.pages[0].marks if isinstance(mark, Path) for point in mark.points)
    assert "access slot" in {cut["layer"] for cut in sheet.table["cuts"]}
    assert reach < 452.0
