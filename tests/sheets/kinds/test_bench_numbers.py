"""The numbers on the sheets against closed forms and a second route: fence, stops, templates, corners, walls, keys."""

from __future__ import annotations

import pytest
from sheet_cases import INCHES, NAMES, ROUTED, layout_of, path_of, sheet_of

from neckmodel.design import read
from neckmodel.errors import DesignError
from neckmodel.findings import Finding, Findings, Place
from neckmodel.layout.workshop.router import router_settings
from neckmodel.lengths import decimal, with_unit
from neckmodel.sheets.kinds.sections import section_places
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.corners import SCALE, draw_corners
from neckmodel.sheets.views.outlines import area
from neckmodel.sheets.views.section import steps_at, wall_line
from neckmodel.work.measures import measures
from neckmodel.work.order import order_of_work


def test_router_settings_of_redpoll() -> None:
    """Blank 63 wide, base 75, bush 16. A rod 6.00 wide goes into one line of a 6 mm cutter: 31.5 - 75. Stops: a base's
    radius less a cutter's beyond 17 and 428. Template: (16 - 6)/2. The adjuster's pocket, 7.8 wide: -/+ 0.9."""
    settings = {setting.step.name: setting for setting in router_settings(layout_of("redpoll"))}
    run = settings["run"]
    assert run.fences == pytest.approx((-43.5,))
    assert (run.stop_start, run.stop_end, run.larger) == pytest.approx((17 - 72, 428 + 72, 5.0))
    slot = settings["access-slot"]
    assert slot.stop_start is None  # it runs out of the wood at the head line
    assert slot.larger == pytest.approx(6.0)
    assert settings["adjuster"].fences == pytest.approx((-44.4, -42.6))


def test_bars_have_their_own_fences() -> None:
    """garganey's bars lie 9 mm to either side of the centre line; the blank is 80 wide: 40 -/+ 9 - 75 and half of what
    the channel is wider than the cutter: 4 for the bar, 0.10 for its glue, 4 the cutter."""
    aside = (4 + 0.10 - 4) / 2
    settings = {setting.step.name: setting for setting in router_settings(layout_of("garganey"))}
    assert settings["bar-1"].fences == pytest.approx((40 - 9 - 75 - aside, 40 - 9 - 75 + aside))
    assert settings["bar-2"].fences == pytest.approx((40 + 9 - 75 - aside, 40 + 9 - 75 + aside))


@pytest.mark.parametrize("name", ROUTED)
def test_corners_drawn_are_as_large_as_the_closed_form(name: str) -> None:
    layout = layout_of(name)
    drawn = 0
    for setting in router_settings(layout):
        if not setting.cutting.corners_at:
            assert setting.cutting.corners == pytest.approx(0.0, abs=1e-9)
            continue
        sketch = Sketch()
        draw_corners(sketch, setting, "mm", (0.0, 0.0))
        left = [m for m in sketch.marks if isinstance(m, Path) and m.layer.name == "corners to square"]
        assert sum(area(path) for path in left) / SCALE**2 == pytest.approx(setting.cutting.corners, abs=1e-6)
        drawn += len(left)
    assert drawn >= 2


@pytest.mark.parametrize("name", ROUTED)
def test_wall_arrows_are_as_long_as_the_walls(name: str) -> None:
    layout = layout_of(name)
    compared = 0
    for _, x in section_places(layout, None):
        for step in steps_at(layout, x):
            line = wall_line(layout, step, x)
            if x < layout.heel.x_joint:
                assert line.wall == pytest.approx(layout.wall_at(step, x), abs=2e-3)
                compared += 1
    assert compared >= 6
    least = {wall.step: wall for wall in layout.walls}
    places = [x for _, x in section_places(layout, None)]
    for wall in least.values():  # the worst place of every step is among the sections
        assert min(abs(x - wall.x) for x in places) < 0.5


@pytest.mark.parametrize("name", NAMES)
def test_every_key_on_the_inspection_sheet_is_one_that_the_design_takes(name: str) -> None:
    layout = layout_of(name)
    rows = [row for _, group in measures(layout) for row in group]
    keyed = [row for row in rows if row.key]
    assert len(keyed) >= (13 if name in ROUTED else 12)
    assert len({row.key for row in keyed}) == len(keyed)
    assert refused(name, {row.key: row.nominal for row in keyed}) == set()
    assert any("no length that a design states" in says for says in refused(name, {"neck.colour": 20.0}))
    for row in rows:
        assert row.low is not None or row.high is not None
        # a bar's channel is planned with the least room for glue, 0.10
        at_least = row.key.startswith("channel.bar") and row.low == pytest.approx(row.nominal)
        at_least |= row.says.endswith(", at least") and row.high is None  # a bore is no narrower than its key needs
        assert row.low is None or row.low < row.nominal or row.key == "channel.run.width" or at_least
        # a run may be planned as wide as its play allows, as wheatear's is
        at_most = row.key == "channel.run.width" and row.high == row.nominal
        assert row.high is None or row.high > row.nominal or at_most


@pytest.mark.parametrize("name", NAMES)
def test_what_is_measured_follows_the_order_of_work(name: str) -> None:
    """The channel is routed in the square: head and heel are measured after it."""
    named = [operation for operation, _ in measures(layout_of(name))]
    tenon, order = (
        layout_of(name).heel.tenon,
        ["After truing the blank", "After routing", "After sawing the side profile"],
    )
    order += ["After cutting the tenon", "After cutting the dovetail", "After drilling"]
    order += ["After boring and slotting the head"]
    order += [
        "The fretboard, before it is glued",
        "The fretboard's face",
        "After tapering and carving",
        "After boring the body",
    ]
    order += ["After gluing on the heel's cap"]
    assert named == [operation for operation in order if operation in named]
    cut = [operation for operation in named if operation.startswith("After cutting")]
    assert cut == ([] if tenon is None else [f"After cutting the {tenon.name}"])
    sawn = dict(measures(layout_of(name)))["After sawing the side profile"]
    assert {"heel.depth", "head.thickness" if name != "godwit" else "head.end.thickness"} <= {row.key for row in sawn}


def refused(name: str, found: dict[str, float]) -> set[str]:
    """What the reader has against these keys under [measured], each found to be so many mm."""
    try:
        read(path_of(name), [f'measured.{key}="{value:.4f} mm"' for key, value in found.items()])
    except DesignError as error:
        return {problem.says for problem in error.problems}
    return set()


def test_bounds_of_the_run() -> None:
    """redpoll's rod is 6.0 wide, its play may be 0 to 0.2; depth 9.3 within 0.15, and no less than the rod's 9.2; its
    end has 1.0 of room, half each way."""
    rows = {row.key: row for _, group in measures(layout_of("redpoll")) for row in group}
    width, depth, end = (rows[f"channel.run.{what}"] for what in ("width", "depth", "x_end"))
    assert (width.low, width.nominal, width.high) == pytest.approx((6.0, 6.1, 6.2))
    assert (depth.low, depth.high) == pytest.approx((9.2, 9.45))
    assert (end.low, end.high) == pytest.approx((427.5, 428.5))
    assert "channel.access-slot.x_start" not in rows  # it runs out of the wood there


def test_no_bound_lets_a_channel_be_too_narrow_for_what_lies_in_it() -> None:
    """Planned widths less 0.2 sideways would let in less than pipit's bar 6 wide with glue (0.10 to 0.20: common
    practice), or wheatear's washer 10 wide."""
    pipit = {row.key: row for _, group in measures(layout_of("pipit")) for row in group}["channel.bar-1.width"]
    assert (pipit.low, pipit.high) == pytest.approx((6.1, 6.2))
    wheatear = {row.key: row for _, group in measures(layout_of("wheatear")) for row in group}
    assert wheatear["channel.washer.width"].low == pytest.approx(10.0)
    assert wheatear["channel.run.width"].low == pytest.approx(5.0)
    for name in NAMES:
        layout = layout_of(name)
        lows = {row.key: row.low for _, group in measures(layout) for row in group}
        for step in layout.steps:
            low = lows[f"channel.{step.name}.width"]
            assert low is not None
            assert step.narrowest is None or low >= step.narrowest - 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_every_step_is_cut_once_and_the_slot_after_the_trial(name: str) -> None:
    layout = layout_of(name)
    works = order_of_work(layout)
    cuts = [cut for work in works for cut in work.cuts]
    assert sorted(cuts) == sorted(step.name for step in layout.steps if not step.bored)
    titles = [work.title for work in works]
    slot = "Rout the access slot"
    assert (slot in titles) == ("access-slot" in cuts)
    if slot in titles:
        assert titles.index("Square the corners and try the parts") < titles.index(slot)
    for work in works:
        if work.cuts:
            assert any("unplugged" in caution for caution in work.cautions)


def test_cautions_stand_on_the_routing_sheet() -> None:
    said = " ".join(text.says for page in sheet_of("redpoll", "routing", "A4").pages for text in page.texts())
    for word in ("manual", "local rules", "eye, ear and lung", "gloves", "unplugged", "scrap", "both hands", "cancer"):
        assert word in said


def test_tuner_holes_are_measured_along_the_face() -> None:
    """garganey's first tuner: 55 along a face that falls by 10 degrees, so at -6 - 55 cos 10 = -60.16 in plan."""
    drill = next(work for work in order_of_work(layout_of("garganey")) if work.title == "Drill")
    assert "55.00 mm from the head line along the face (x -60.16 mm), at y -17.00 mm" in drill.says[1]


def test_lengths_have_their_unit() -> None:
    assert with_unit(7.065, "mm") == "7.07 mm"
    assert with_unit(25.4 * 1.484375, "in") == "1.484 in (1 31/64)"
    assert decimal(-6.35, "in") == "-0.250 in"
    assert with_unit(None, "mm") == decimal(float("inf"), "in") == "-"


def test_an_inch_design_speaks_inches() -> None:
    """wren: scale 24 5/16 in, so fret 12 at half of it, 12 5/32 in."""
    said = [text.says for text in sheet_of(INCHES, "marking-out", "long").pages[0].texts()]
    assert "fret 12: 12.156 in (12 5/32)" in said
    assert not any("mm" in words for words in said if "100 mm" not in words and "50 mm" not in words)


def test_sections_go_through_the_place_that_the_checks_found() -> None:
    """redpoll's run starts at 17.00; the skin nearest to it was found at 16.97, where there is no run yet."""
    layout = layout_of("redpoll")
    found = Finding("wall/run", "neck", "pass", "", measured=4.88, at=Place(16.97, 4.0, -13.0, 0))
    other = Finding("wall/screw", "neck", "pass", "", measured=11.7, at=Place(408.41, 15.0, -9.0, 17))
    places = section_places(layout, Findings("redpoll", (found, other), ()))
    assert ("least wood round the run, 4.88 mm as measured", 17.0) in places
    assert "run" in [step.name for step in steps_at(layout, 17.0)]
    assert not any("11.7" in name for name, _ in places)  # the screws have sections of their own
    assert [name for name, x in places if abs(x - 408.41) < 0.5] == ["screw 3; screw 4"]
