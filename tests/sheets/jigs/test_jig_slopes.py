"""Jigs' drawings: edges on slopes are drawn, and what is said of holes is said once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from jig_cases import drafted, drawn
from sheet_cases import layout_of

from neckmodel.jigs import KINDS
from neckmodel.sheets.jigs.faces import faces_of_side
from neckmodel.sheets.jigs.sides import View
from neckmodel.sheets.marks.display import Path as Line
from neckmodel.sheets.marks.layers import JIG

ABOVE = View((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def test_a_slot_in_a_slope_is_drawn() -> None:
    """A wedge 40 x 30, 20 high at one end, 0 at the other, with a slot 6 wide whose floor falls from 12 high to 2: it
    leaves the slope where that is 2 high, at x = 36. Seen from above: the rim, the slot's two sides and its end."""
    import cadquery as cq

    from neckmodel.solids.kernel.gate import cut

    wedge = cq.Workplane("XZ").polyline([(0, 0), (40, 0), (0, 20)]).close().extrude(-30).val()
    sides = [(-3.6, 13), (36, 2), (36, 25), (-3.6, 25)]
    slot = cq.Workplane("XZ", origin=(0, 12, 0)).polyline(sides).close().extrude(-6).val()
    seen = faces_of_side(cut(wedge, [slot], "wedge"), ABOVE)
    lines = [m for m in seen.marks if isinstance(m, Line) and m.layer is JIG]
    inked = shapely.union_all([shapely.LineString([a, b]) for m in lines for a, b, _ in m.stretches()])
    wanted = shapely.MultiLineString(
        [[(0, 12), (36, 12), (36, 18), (0, 18)], [(0, 0), (40, 0), (40, 30), (0, 30), (0, 0)]]
    )
    assert inked.hausdorff_distance(wanted) < 0.01
    assert inked.length == pytest.approx(wanted.length, abs=0.01)


def test_the_access_slot_of_an_angled_head_is_drawn_on_the_trial_block() -> None:
    """wheatear's slot starts on the head's face, beyond the head line: its sides are drawn from there on."""
    layout = layout_of("wheatear")
    slot = layout.step("access-slot")
    assert slot.x_start < layout.head.x_line - 5.0
    jig = drafted("trial-block", "wheatear")
    assert jig is not None
    piece = next(one for one in jig.draft.pieces if one.name == "adjuster")
    lines = [m for m in faces_of_side(piece.solid, ABOVE).marks if isinstance(m, Line) and m.layer is JIG]
    inked = shapely.union_all([shapely.LineString([a, b]) for m in lines for a, b, _ in m.stretches()])
    for side in (-1, 1):
        y = side * slot.width / 2
        wanted = shapely.LineString([(slot.x_start, y), (slot.x_end, y)])
        assert wanted.difference(inked.buffer(0.02)).length == pytest.approx(0.0, abs=0.02)


def test_faces_that_stand_for_a_curve_have_no_edges_between_them() -> None:
    """A cone of 72 flat faces, 5 degrees from one to the next: its foot and its top are edges, and no line up it."""
    import cadquery as cq

    rim = [(20 * np.cos(t), 20 * np.sin(t)) for t in np.linspace(0.0, 2 * np.pi, 72, endpoint=False)]
    from neckmodel.jigs.plan import slope_edges

    cone = cq.Workplane("XY").polyline(rim).close().extrude(8.0, taper=45.0).val()
    edges = slope_edges(cone)
    assert len(edges) == 2 * 72  # foot and top
    assert all(start[2] == end[2] for start, end in edges)


def said_by(kind: str, *case: str) -> list[str]:
    page = next(sheet for sheet in drawn(kind, *case) if sheet.paper == "A4").pages
    return [" ".join(text.says for text in one.texts()) for one in page]


def test_openings_are_listed_under_one_word() -> None:
    (said,) = (one for one in said_by("trial-block", "wheatear") if "washer starts" in one and "Openings" in one)
    assert "Openings: 1 of 10.50 mm x 8.80 mm; 1 of 4.00 mm x 10.20 mm." in said
    assert said.lower().count("openings:") == 1


def test_the_sizes_that_a_guides_holes_are_drilled_to_are_said_once() -> None:
    """All alike in one sentence; else each size with its tuners, by the names on every other sheet."""
    assert "Then drill every hole to 10.00 mm." in said_by("tuner-guide", "redpoll")[0]
    jig = drafted("tuner-guide", "redpoll")
    assert jig is not None
    assert not any("tuner-1" in remark for remark in jig.remarks)
    layout = layout_of("redpoll")
    first, *others = layout.tuners
    mixed = replace(layout, tuners=(replace(first, hole=8.5), *others))
    drill = KINDS["tuner-guide"].draft(mixed).remarks[1]
    rest = "tuner 2, tuner 3, tuner 4, tuner 5, tuner 6"
    assert drill == f"Then drill the holes to size: tuner 1 to 8.50 mm; {rest} to 10.00 mm."
