"""Fences and stops with the router's base as it is stated, and without a number where it is not."""

from __future__ import annotations

import pytest
from sheet_cases import layout_of, sheet_of

from neckmodel.design import read_text
from neckmodel.jigs import JigError, kind_named
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.workshop.router import router_settings
from neckmodel.report.work import work_section
from neckmodel.sheets import draw
from neckmodel.work.order import order_of_work
from neckmodel.work.settings import setting_rows

WITHOUT = "pipit"  # the preset that states none


def words(layout: Layout, kind: str) -> str:
    return " ".join(
        text.says for sheet in draw(kind, layout, None, ("A4",)) for page in sheet.pages for text in page.texts()
    )


def rows(layout: Layout, step: str) -> dict[str, str]:
    return dict(setting_rows(layout, next(s for s in router_settings(layout) if s.step.name == step), "mm"))


@pytest.fixture(scope="module")
def unstated() -> Layout:
    """redpoll, its base and its bush taken out."""
    text = (layout_of("redpoll").design.source.text or "").replace("router_base = 75.0\n", "")
    return lay_out(read_text(text.replace("guide_bush = 16.0\n", ""), "redpoll"))


def test_a_base_that_is_not_stated_has_no_size(unstated: Layout) -> None:
    assert unstated.design.workshop.router_base is None
    for setting in router_settings(unstated):
        assert (setting.base, setting.fences, setting.stop_start, setting.stop_end) == (None, (), None, None)
    run = next(s for s in router_settings(unstated) if s.step.name == "run")
    assert (run.centres, run.first, run.last) == (pytest.approx((31.5,)), pytest.approx(20.0), pytest.approx(425.0))


def test_its_sheet_asks_for_it_and_tells_where_the_cutters_middle_runs(unstated: Layout) -> None:
    said = words(unstated, "routing")
    assert "The router's base is not stated: measure from the cutter's middle" in said
    assert "workshop.router_base" in said
    assert "75.00 mm" not in said
    told = rows(unstated, "run")
    assert told["fence"].startswith("the cutter's middle 31.50 mm inside the reference edge")
    assert "x 20.00 mm" in told["stop blocks"]
    assert "x 425.00 mm" in told["stop blocks"]


@pytest.mark.parametrize("kind", ["routing", "marking-out"])
def test_no_sheet_of_a_preset_without_one_names_the_usual_size(kind: str) -> None:
    assert "router_base" not in (layout_of(WITHOUT).design.source.text or "")
    assert "75.00 mm" not in words(layout_of(WITHOUT), kind)
    assert "stop bar" not in words(layout_of(WITHOUT), "marking-out")
    assert "75.00 mm" not in work_section(layout_of(WITHOUT))


def test_a_stated_base_is_told_with_fences_and_stops() -> None:
    said = " ".join(text.says for page in sheet_of("redpoll", "routing", "A4").pages for text in page.texts())
    assert "Router base 75.00 mm from the cutter's middle to its edge" in said
    assert "43.50 mm outside the reference edge" in said
    assert "not stated" not in said


def test_fence_and_stops_are_the_middle_less_the_base() -> None:
    for setting in router_settings(layout_of("redpoll")):
        assert setting.base == 75.0
        assert setting.fences == pytest.approx([centre - 75.0 for centre in setting.centres])
        if setting.first is not None:
            assert setting.stop_start == pytest.approx(setting.first - 75.0)


def test_a_jig_that_stops_the_base_asks_for_it() -> None:
    layout = layout_of(WITHOUT, "workshop.guide_bush=16")
    with pytest.raises(JigError, match=r"workshop\.router_base"):
        kind_named("routing-template").refuse(layout)


def test_a_steep_slot_is_cut_in_steps_and_pared() -> None:
    slot, run = (rows(layout_of("wheatear"), step) for step in ("access-slot", "run"))
    assert "level steps" in slot["slope"]
    assert "sled" not in slot
    assert "on a sled's rails it needs 26.15 mm" in run["cutter"]
    assert "rails beside the blank" in run["sled"]


def test_one_line_says_what_comes_out() -> None:
    told = rows(layout_of("dunnock"), "access-slot")
    assert told["lines"].startswith("one line: it comes out 5.50 mm wide")
    assert "planned 5.53 mm" in told["lines"]
    assert told["fence"].count("mm") == 1


def test_a_cover_strip_is_fitted_to_the_run_as_it_comes_out() -> None:
    """wheatear's run is planned 5.20 wide for a rod of 5.00, and one line of a cutter of 5.00 does."""
    (strip,) = (work for work in order_of_work(layout_of("wheatear")) if work.title == "Glue in the cover strip")
    assert any("comes out 5.00 mm wide: plane the strip to fit it" in says for says in strip.says)
