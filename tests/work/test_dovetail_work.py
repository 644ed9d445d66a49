"""What the order of work, the measures, the order list, the estimates and the sheets say of a dovetail, its tapered
heel and its cap, and of a key's bore beside them. The neck is dunlin. No CAD kernel."""

from __future__ import annotations

import math

import pytest
from sheet_cases import layout_of

from neckmodel.findings import Findings, PartFact
from neckmodel.layout.access.soundhole import SoundholeWay
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.report.estimates import estimate_tables
from neckmodel.report.materials import order_list
from neckmodel.sheets.views.section import section_words
from neckmodel.work.measures import measures
from neckmodel.work.order import order_of_work

ALONG, DOWN = math.tan(math.radians(12)), math.tan(math.radians(4))


def said(title: str, *over: str) -> str:
    works = order_of_work(layout_of("dunlin", *over))
    return next(" ".join((*work.says, *work.checks)) for work in works if work.title == title)


def test_the_order_is_that_of_a_dovetailed_neck() -> None:
    """The dovetail is cut while the sides are parallel; the body is bored before the neck goes in; the cap comes when
    the heel has its shape; the neck is fitted last of the wood's work."""
    titles = [work.title for work in order_of_work(layout_of("dunlin"))]
    wanted = (
        "Rout the channel",
        "Cut the dovetail",
        "Saw the taper and the head's outline",
        "Glue on the fretboard",
        "Plane the sides flush and carve the back",
        "Bore the body for the key",
        "Glue on the heel's cap",
        "Fit the neck to the body",
        "String up, and set the relief",
    )
    assert [title for title in titles if title in wanted] == list(wanted)


def test_widths_of_the_dovetail_are_told_at_both_ends_and_both_depths() -> None:
    """Worked out by hand: 38 wide at its end, 21 long at 12 degrees a cheek, 64 deep at 4 degrees."""
    root, bottom = 38 - 2 * 21 * ALONG, 38 - 2 * 64 * DOWN
    words = said("Cut the dovetail")
    assert f"38.00 mm wide at the end and {root:.2f} mm at the joint" in words
    assert f"64.00 mm below that, where its bottom lies, {bottom:.2f} mm wide at the end" in words
    assert f"{root - 2 * 64 * DOWN:.2f} mm at the joint; all of it even about the centre line" in words


def test_the_neck_s_angle_is_cut_into_the_shoulders() -> None:
    """Set back by atan((H - h_s - g)/(L - x_j)): strings 13.5 over the body at the bridge, 3.6 over the frets there,
    whose tops lie 7.1 over the body. By that angle the heel's foot, 82 down, comes nearer to the body."""
    x_joint = 637 * (1 - 2 ** (-14 / 12))
    turn = math.atan((13.5 - 3.6 - 7.1) / (637 - x_joint))
    assert f"{math.degrees(turn):.2f} deg back from the body" in said("Cut the dovetail")
    assert f"they lie {82 * math.tan(turn):.2f} mm farther toward the head" in said("Cut the dovetail")
    level = said("Cut the dovetail", "action.bridge_height=10.7")
    assert "asks for no angle" in level


def test_a_body_end_that_was_sawn_for_the_rod_is_not_sawn_again() -> None:
    assert "The body end is sawn off at x 374.25 mm." in said("Cut the dovetail")
    assert "Saw the blank's body end off square at x 374.25 mm" in said("Square the corners and try the parts")
    inside = ("rod.length=362", "rod.adjuster.length=6", "rod_place.from_nut=8")
    assert "Saw off the body end at x 374.25 mm." in said("Cut the dovetail", *inside)


def test_the_bore_goes_out_from_the_mortise() -> None:
    words = said("Bore the body for the key")
    assert "On the end wall of the mortise, x 374.25 mm" in words
    assert "Drill from the mortise toward the soundhole" in words
    assert "pocket" not in words


def test_cap_and_heel_are_measured_and_ordered() -> None:
    layout = layout_of("dunlin")
    rows = {row[0]: row for row in order_list(layout)}
    assert rows["heel cap, ebony"][2].endswith("x 34.00 mm x 3.00 mm")
    assert "the heel is now 84.90 mm to 85.10 mm deep" in said("Glue on the heel's cap")
    told = {group: " ".join(row.says for row in rows) for group, rows in measures(layout)}
    assert "dovetail: width at the joint at the bottom" in told["After cutting the dovetail"]
    assert "After gluing on the heel's cap" in told


def test_the_cap_s_weight_is_told() -> None:
    """Ebony is told by the cap's own volume, beside neck and fretboard."""
    layout = layout_of("dunlin")
    facts = [
        PartFact(name, volume, (0, 0, 0, 1, 1, 1), 1, True, True)
        for name, volume in (("neck", 6e5), ("heel-cap", 1000.0))
    ]
    table = next(
        t for t in estimate_tables(layout, Findings("dunlin", (), tuple(facts))) if t.title.startswith("Weight")
    )
    rows = {row[0]: row for row in table.rows}
    assert "heel-cap, ebony" in rows
    likely = float(rows["heel-cap, ebony"][2].split()[0])
    assert likely == pytest.approx(1.0, abs=0.5)  # a cubic centimetre of a wood that hardly floats


def test_a_section_through_the_dovetail_is_called_so() -> None:
    layout = layout_of("dunlin")
    tenon = layout.heel.tenon
    assert isinstance(tenon, Dovetail)
    words = section_words(layout, tenon.x_end - 5.0, "mm")
    assert "dovetail 64.00 mm deep" in words
    assert f"{38 - 2 * 5 * ALONG:.2f} mm wide at the glue plane" in words


@pytest.mark.parametrize("hand", ["right", "left"])
def test_sizes_in_inches_and_the_other_hand_are_the_same(hand: str) -> None:
    over = (f"design.hand={hand}",)
    layout = layout_of("dunlin", *over)
    assert isinstance(layout.soundhole_way, SoundholeWay)
    assert layout.soundhole_way.least < layout.soundhole_way.length
    assert "38.00 mm wide at the end" in said("Cut the dovetail", *over)
