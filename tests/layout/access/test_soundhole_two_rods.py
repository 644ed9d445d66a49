"""Two rods turned through the soundhole: both ways alike, each on its rod's own line, where the ellipse's edges lie
nearer together."""

from __future__ import annotations

import math

import pytest
from soundhole_samples import IN_WOOD, laid_out, way

from neckmodel.layout.json.layout import layout_json
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.body import draw_way_plan
from neckmodel.variants.tolerance.report import vary_tolerance
from neckmodel.work.order import order_of_work

WIDE = (*IN_WOOD, "heel.tenon.width=48")
TWO = (*WIDE, "rod.count=2", "rod.offset=9")
CUT = 50.0 * (1 - math.sqrt(1 - (9.0 / 50.0) ** 2))  # of a hole from 452 to 552 and 100 wide, 9 off its middle


def test_the_soundholes_edges_are_those_on_each_keys_own_line() -> None:
    (one, _), (two, key) = way(*WIDE), way(*TWO)
    assert (two.x_edge, one.x_edge, one.x_from) == (452.0, 452.0, 452.0)
    assert (two.x_from, two.x_to) == (pytest.approx(452.0 + CUT), pytest.approx(552.0 - CUT))
    assert two.least == pytest.approx(one.least + CUT)  # a straight key is held that much farther on
    assert two.bores[-1].x_end == pytest.approx(452.0 + CUT)
    assert two.under_top.value == pytest.approx(one.under_top.value - CUT * math.tan(math.radians(two.top.angle)))
    assert key.y == -9.0


def test_json_and_stations_tell_the_soundhole_as_it_is() -> None:
    assert layout_json(laid_out(*TWO))["soundhole_way"]["soundhole"] == {"from": 452.0, "to": 552.0, "width": 100.0}
    assert [station.x for station in laid_out(*TWO).stations if station.name == "soundhole begins"] == [452.0]


def test_both_bores_are_drawn_and_told() -> None:
    sketch, layout = Sketch(), laid_out(*TWO)
    draw_way_plan(sketch, layout, 60.0)
    bores = [m for m in sketch.marks if isinstance(m, Path) and m.layer.name == "bore in the body"]
    assert {round(sum(y for _, y in bore.points) / len(bore.points), 6) for bore in bores} == {-9.0, 9.0}
    (work,) = (work for work in order_of_work(layout) if work.title == "Bore the body for the keys")
    assert "mark the middles of two bores, at y -9.00 mm and y 9.00 mm, " in work.says[0]
    assert "Both bores are alike" in work.says[1]


def test_tolerances_count_for_either_way() -> None:
    found = {one.check for one in vary_tolerance(laid_out(*TWO), necks=50).checks}
    assert {f"access/{name}-{number}" for name in ("reach", "top", "brace") for number in (1, 2)} <= found
