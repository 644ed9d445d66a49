"""How rod and bars lie in a channel that was measured, which rods still go into it, and what is left of tolerances."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from neck_runs import PRESETS, design, found, laid_out
from variant_samples import RUSH, rods_file

from neckmodel.design import changed
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.measured.shims import shims
from neckmodel.layout.rod.bars import BAR_FIT
from neckmodel.layout.rod.compression import LEAST_STRIP
from neckmodel.layout.workshop.tolerance import contributions, settled
from neckmodel.sheets.views.side import segment_box
from neckmodel.variants import Fit, fit_rods, read_rods, vary_tolerance
from neckmodel.variants.tolerance.errors import shares
from neckmodel.work.order import order_of_work

RUN = "measured.channel.run."
CARVED = ("measured.neck.thickness.fret_1=19.0", "measured.neck.thickness.fret_12=21.0")


def _trial(layout: Layout) -> str:
    return next(text for work in order_of_work(layout) if "Try the rod" in (text := " ".join(work.says)))


@pytest.mark.parametrize("preset", [*PRESETS, "wheatear", "whimbrel", "pipit"])
def test_as_planned_nothing_is_lifted(preset: str) -> None:
    layout = laid_out(preset)
    if layout.rod is not None:
        assert layout.rod.lift == 0.0
        assert layout.rod.below == layout.design.channel.deeper_by
    assert all(bar.below == BAR_FIT / 2 for bar in layout.bars)
    assert layout.steps == layout.planned_steps
    assert shims(layout) == ()


def test_a_floor_too_high_by_the_clearance_leaves_the_rod_flush() -> None:
    """9.2 deep for a rod 9.2 high: 0.00 below the glue plane, and all that hangs on the rod 0.1 higher than planned.
    The adjuster's axis is 4.2 below the rod's top, its pocket (7.0 + 0.8)/2 deeper than that, the slot's floor too."""
    plan, built = laid_out("redpoll"), laid_out("redpoll", f"{RUN}depth=9.2")
    assert plan.rod is not None
    assert built.rod is not None
    assert (plan.rod.axis, built.rod.axis) == (pytest.approx(4.3), pytest.approx(4.2))
    assert (built.rod.below, built.rod.lift) == (pytest.approx(0.0), pytest.approx(0.1))
    assert built.step("adjuster").depth == pytest.approx(4.2 + 3.9)
    assert plan.step("access-slot").depth - built.step("access-slot").depth == pytest.approx(0.1)
    assert plan.key is not None
    assert built.key is not None
    assert plan.key.axis - built.key.axis == pytest.approx(0.1)
    assert built.step("run").depth == 9.2
    assert segment_box(built.rod.segment("span"), -built.rod.below)[1:4:2] == pytest.approx((-9.2, 0.0))
    assert "its top 0.00 mm below" in _trial(built)


def test_flush_passes_and_may_be_proud_by_what_was_measured_wrong() -> None:
    finding = found("fit/run", "redpoll", f"{RUN}depth=9.2")
    assert (finding.verdict, finding.measured, finding.limit) == ("warn", pytest.approx(0.0, abs=1e-9), 0.0)
    assert finding.worst_case == pytest.approx(-0.1)
    assert finding.more["under_rod"] == pytest.approx(0.0, abs=1e-4)
    assert found("overlap/none", "redpoll", f"{RUN}depth=9.2").verdict == "pass"


def test_a_floor_still_higher_leaves_the_rod_proud() -> None:
    finding = found("fit/run", "redpoll", f"{RUN}depth=9.0")
    assert (finding.verdict, finding.measured) == ("fail", pytest.approx(-0.2))
    assert "stands 0.20 mm proud" in finding.says
    assert finding.remedy is None


@pytest.mark.parametrize(("depth", "verdict", "void"), [(10.2, "warn", 1.0), (9.51, "warn", 0.31), (9.5, "pass", 0.3)])
def test_a_floor_too_low_asks_for_a_shim(depth: float, verdict: str, void: float) -> None:
    """The void over a rod on the floor is its depth less 9.2; the shim is what is deeper than the planned 9.3."""
    over = f"{RUN}depth={depth}"
    finding, layout = found("fit/run", "redpoll", over), laid_out("redpoll", over)
    assert finding.verdict == verdict
    assert finding.more["shim"] == pytest.approx(depth - 9.3)
    assert finding.more["below_glue_plane"] == pytest.approx(0.1)
    assert f"{void:.2f} mm below the glue plane where it lies on the floor" in finding.says
    assert (f"lay a {depth - 9.3:.2f} mm shim under it" in finding.says) is (verdict == "warn")
    assert ("lay a shim" in _trial(layout)) is (verdict == "warn")
    assert layout.rod == laid_out("redpoll").rod


@pytest.mark.parametrize(("depth", "top", "verdict"), [(9.0, 0.0, "warn"), (8.9, -0.1, "fail"), (10.0, 0.05, "warn")])
def test_a_bar_lies_on_the_floor_of_its_channel(depth: float, top: float, verdict: str) -> None:
    over = f"measured.channel.bar-1.depth={depth}"
    layout, finding = laid_out("garganey", over), found("fit/bar-1", "garganey", over)
    assert layout.bars[0].below == pytest.approx(top)
    assert layout.bars[1].below == BAR_FIT / 2
    assert finding.verdict == verdict
    assert finding.more["below_glue_plane"] == pytest.approx(top, abs=1e-4)
    assert ("lay a 0.90 mm shim" in finding.says) is (depth == 10.0)
    if top == 0.0:
        assert found("overlap/none", "garganey", over).verdict == "pass"


def test_a_bent_rod_first_takes_up_the_clearance_under_it() -> None:
    """Of 0.35 too high 0.15 is clearance: the axis, and with it washer, adjuster and strip, lie 0.20 higher."""
    plan = laid_out("wheatear")
    depth, clear = plan.step("run").depth, plan.design.channel.deeper_by
    assert clear == 0.15
    assert laid_out("wheatear", f"{RUN}depth={depth - 0.15}").rod == plan.rod
    over = f"{RUN}depth={depth - 0.35}"
    built = laid_out("wheatear", over)
    assert plan.rod is not None
    assert built.rod is not None
    assert plan.rod.axis - built.rod.axis == pytest.approx(0.2)
    assert plan.rod.strip is not None
    assert built.rod.strip is not None
    assert plan.rod.strip.underside.mean() - built.rod.strip.underside.mean() == pytest.approx(0.2)
    assert found("fit/run", "wheatear", over).verdict == "pass"
    assert found("overlap/none", "wheatear", over).verdict == "pass"


def test_a_void_under_a_bent_rod() -> None:
    """0.45 deeper than planned, with 0.15 of clearance: 0.60."""
    finding = found("fit/run", "wheatear", f"{RUN}depth={laid_out('wheatear').step('run').depth + 0.45}")
    assert (finding.verdict, finding.limit) == ("warn", 0.3)
    assert finding.measured == pytest.approx(0.6, abs=0.03)
    assert "lay a 0.45 mm shim" in " ".join(finding.says.split())


# --- rods that go into what is cut -----------------------------------------------------------------------------------

CUT = tuple(f"{RUN}{size}" for size in ("width=6.1", "depth=9.3", "x_start=17.0", "x_end=428.0"))


def _fits(folder: Path, rods: Mapping[str, dict[str, Any]], *measured: str) -> dict[str, Fit]:
    return {fit.name: fit for fit in fit_rods(design("redpoll", *measured), read_rods(rods_file(folder, dict(rods))))}


def test_rods_in_a_run_that_is_cut(tmp_path: Path) -> None:
    """The run from 17 to 428: a block 10 behind its adjuster's face begins at 17 only from 7. A rod of 430 with its
    adjuster at the heel ends its block 420 from its start, so it would need 428 - 420 = 8 at most: the run is
    420 - 411 = 9 too short, wherever the rod lies."""
    rods = {"rush": {}, "heel": {"length": 430.0, "adjuster_at": "heel"}}
    fits = _fits(tmp_path, rods, *CUT)
    assert fits["rush"].fits
    assert (fits["rush"].x_start, fits["rush"].x_from, fits["rush"].x_to) == (7.0, 7.0, 7.0)
    assert not fits["heel"].fits
    assert fits["heel"].x_start is None
    assert fits["heel"].says == "the run as cut is 9.00 mm short"
    assert fits["heel"].margin == pytest.approx(-9.0)
    assert not fits["rush"].wrong  # it fits
    told = [margin.what for margin in fits["rush"].margins]
    assert len(told) == len(set(told))


def test_an_end_that_is_cut_limits_the_places(tmp_path: Path) -> None:
    """To 425: a rod of 420 from 5 at most, one of 412 from 13; one of 422 from 3, before the nut's gap of 4."""
    lengths = {f"{length:g}": {"length": length} for length in (420.0, 412.0, 422.0)}
    fits = _fits(tmp_path, lengths, f"{RUN}x_end=425")
    assert (fits["420"].x_from, fits["420"].x_to) == (4.0, 5.0)
    assert (fits["412"].x_from, fits["412"].x_to) == (4.0, 13.0)
    assert not fits["422"].fits
    assert fits["422"].says == "the run as cut toward the body is 1.00 mm short"
    for name, length in (("420", 420.0), ("412", 412.0)):
        for x in (fits[name].x_start, fits[name].x_to):
            over = (f"rod.length={length}", f"rod_place.from_nut={x}", f"{RUN}x_end=425")
            assert found("fit/end", "redpoll", *over).verdict == "pass"
            assert found("overlap/none", "redpoll", *over).verdict == "pass"
    beyond = ("rod.length=420.0", "rod_place.from_nut=5.1", f"{RUN}x_end=425")
    assert found("fit/end", "redpoll", *beyond).measured == pytest.approx(-0.1)


def test_a_rod_goes_as_deep_as_its_run_is_cut(tmp_path: Path) -> None:
    rods = {f"{h:g}": {"height": h, "block": _end(h), "anchor": _end(h)} for h in (9.2, 9.3)}
    fits = _fits(tmp_path, rods, f"{RUN}depth=9.2")
    assert fits["9.2"].fits
    assert not fits["9.3"].fits
    assert fits["9.3"].says == "the depth of run as cut is 0.10 mm short"
    over = (f"{RUN}depth=9.2", f"rod_place.from_nut={fits['9.2'].x_start}")
    assert found("fit/run", "redpoll", *over).verdict == "warn"
    assert found("overlap/none", "redpoll", *over).verdict == "pass"


def _end(height: float) -> dict[str, float]:
    return {"length": 12.0, "width": 6.0, "height": height}


def test_a_pocket_of_the_adjuster_that_is_cut(tmp_path: Path) -> None:
    """7.5 wide for one of 7.0 turns, one of 7.6 does not go in."""
    wide = {**RUSH["adjuster"], "diameter": 7.6}
    fits = _fits(tmp_path, {"rush": {}, "wide": {"adjuster": wide}}, "measured.channel.adjuster.width=7.5")
    assert fits["rush"].fits
    assert fits["wide"].says == "the width of adjuster as cut is 0.11 mm short"


def test_a_reading_of_another_rod_refuses_no_rod(tmp_path: Path) -> None:
    read = design("redpoll", "calibration.rod_bow_per_turn=0.8")
    compression = {
        "kind": "compression",
        "diameter": 5.0,
        "axis_depth": {"adjuster": 6.0, "middle": 8.0, "anchor": 6.0},
        "washer": {"diameter": 10.0, "thickness": 2.0},
        "adjuster": {**RUSH["adjuster"], "diameter": 8.0},
    }
    own = rods_file(tmp_path, {"bent": compression})
    plain = fit_rods(design("redpoll"), read_rods(own))
    assert fit_rods(read, read_rods(own)) == plain


# --- tolerances of finished work --------------------------------------------------------------------------------------


def test_of_what_is_measured_only_the_measuring_counts() -> None:
    """Carved and cut: 0.1 for the carve and 0.1 times |n_z| for the depth instead of 0.4 and 0.15."""
    over = (*CARVED, f"{RUN}depth=9.3")
    layout = laid_out("redpoll", *over)
    tolerances = layout.design.workshop.tolerances
    assert settled(layout, "run") == {"depth", "carve"}
    assert settled(layout, "adjuster") == {"carve"}
    assert settled(laid_out("redpoll", CARVED[0]), "run") == set()
    taken = contributions(tolerances, 0.6, -0.8, 9.3, settled(layout, "run"))
    assert taken == {
        "sideways": pytest.approx(0.12),
        "glue_plane": pytest.approx(0.08),
        "stock": pytest.approx(0.08),
        "tilt": 0.0,
        "measuring": pytest.approx(0.08 + 0.1),
    }
    finding = found("wall/run", "redpoll", *over)
    plan = found("wall/run", "redpoll", *(size.removeprefix("measured.") for size in CARVED))
    assert finding.measured == pytest.approx(plan.measured)
    assert finding.worst_case is not None
    assert plan.worst_case is not None
    assert finding.worst_case - plan.worst_case == pytest.approx(0.3 + 0.05, abs=2e-3)  # |n_z| is nearly 1
    assert "the carve" in plan.says
    assert "the carve" not in finding.says


def test_necks_drawn_differ_no_more_than_was_measured() -> None:
    """The wall's deviation: root of the squares of half of 0.1 (carve), 0.1 (depth), 0.1 and 0.1, straight down."""
    layout = laid_out("redpoll", *CARVED, f"{RUN}depth=9.3")
    run = next(share for share in shares(layout).each if share.step == "run")
    assert run.largest[0] == "measuring"
    assert run.largest[1] == pytest.approx(0.1, abs=1e-3)
    sigma = (4 * 0.1**2) ** 0.5 / 2
    assert run.wall - run.low == pytest.approx(2.326 * sigma, abs=0.02)
    report = vary_tolerance(layout, 20_000)
    sure = next(sure for sure in report.checks if sure.check == "wall/run")
    assert sure.takes.keys() == {"sideways", "glue_plane", "stock", "tilt", "measuring"}
    assert sure.worst == pytest.approx(run.worst)


def test_a_tuner_hole_that_was_measured_lies_where_it_is() -> None:
    holes = {f"measured.head.tuners.{k}.y": tuner.y for k, tuner in enumerate(design("redpoll").head.tuners)}
    built = vary_tolerance(lay_out(changed(design("redpoll"), holes)), 100)
    plan = vary_tolerance(laid_out("redpoll"), 100)
    taken = [next(s for s in report.checks if s.check == "head/tuners").takes for report in (plan, built)]
    assert taken == [{"sideways": 0.2, "measuring": 0.1}, {"sideways": 0.0, "measuring": 0.1}]


def test_a_bent_rod_is_lifted_no_farther_than_its_strip_can_cover_it() -> None:
    """Wheatear's run far too shallow: the rod, 5.0 across on an axis 6.0 deep at its ends, keeps the least strip over
    it where it lies highest, and stands on the floor nowhere else."""
    shallow = laid_out("wheatear", f"{RUN}depth=4.0").rod
    plan = laid_out("wheatear").rod
    assert shallow is not None
    assert plan is not None
    assert plan.curve is not None
    free = min(plan.curve.extremes()[0] - 2.5 - LEAST_STRIP, *(plan.below + box.top for box in plan.segments))
    by = laid_out("wheatear").step("run").depth - 4.0
    assert by - laid_out("wheatear").design.channel.deeper_by > free + 1.0  # without the cap it would rise much farther
    assert shallow.lift == pytest.approx(free, abs=1e-6)
