"""What was measured at the bench overrides the plan: layout, steps, kinds of numbers, and mistakes in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from neck_runs import PRESETS, design, found, found_all, laid_out

from neckmodel.checks.remedies.fixed import changes_measured
from neckmodel.checks.remedies.next import tell_as_built
from neckmodel.design import changed
from neckmodel.errors import DesignError
from neckmodel.findings import NEXT_CUT, ways_of
from neckmodel.layout import lay_out
from neckmodel.layout.channel.walls import opening
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.measured.carve import NextCuts, least_carve, next_cuts
from neckmodel.layout.measured.numbers import as_built, numbers_of
from neckmodel.layout.neck.section import section_walls


def test_every_nominal_value_entered_as_measured_changes_nothing() -> None:
    """Every length that [measured] takes, at the value that the layout's JSON gives, for every preset."""
    for preset in PRESETS:
        plan = layout_json(laid_out(preset))
        over = {f"measured.{number['key']}": number["value"] for number in plan["numbers"]}
        assert len(over) > 60
        built = layout_json(lay_out(changed(design(preset), over)))
        assert {number["type"] for number in built["numbers"]} == {"measured"}
        assert {n["key"]: n["planned"] for n in built["numbers"]} == {n["key"]: n["value"] for n in plan["numbers"]}
        assert all(step["as_built"] == ["x_start", "x_end", "width", "depth"] for step in built["channel"])
        assert _without(built) == _without(plan)


def _without(data: dict[str, Any]) -> dict[str, Any]:
    """A layout's JSON without what tells stated and measured apart."""
    bare = {key: value for key, value in data.items() if key not in ("numbers", "design_sha256")}
    return bare | {"channel": [{k: v for k, v in step.items() if k != "as_built"} for step in data["channel"]]}


def test_a_channel_too_deep_leaves_less_wood() -> None:
    """0.3 deeper: 0.294 less wall, for it is taken aslant (4.895 of the run as planned, at x 17)."""
    plan, built = laid_out("redpoll"), laid_out("redpoll", "measured.channel.run.depth=9.6")
    run = built.step("run")
    assert (run.depth, plan.step("run").depth) == (9.6, pytest.approx(9.3))
    assert plan.walls[0].wall == pytest.approx(4.895, abs=1e-3)
    assert plan.walls[0].wall - built.walls[0].wall == pytest.approx(0.294, abs=0.006)
    assert [n.key for n in as_built(built)] == ["channel.run.depth"]
    assert built.steps[1:] == plan.steps[1:]
    assert as_built(plan) == ()


def test_measured_sizes_override_what_is_stated_and_what_is_set() -> None:
    layout = laid_out("redpoll", "measured.neck.thickness.fret_1=19.2", "neck.thickness.fret_1=25")
    assert layout.back.t_1 == 19.2
    assert layout.design.plan.neck.thickness.fret_1 == 25.0
    kinds = {number.key: (number.origin, number.planned) for number in numbers_of(layout)}
    assert kinds["neck.thickness.fret_1"] == ("measured", 25.0)
    assert kinds["neck.thickness.fret_12"] == ("stated", None)
    assert kinds["head.swell_length"] == ("derived", None)  # a default
    assert kinds["channel.run.depth"] == ("derived", None)


def test_an_open_end_follows_the_end_that_it_runs_into() -> None:
    steps = {s.name: s for s in laid_out("redpoll", "measured.channel.adjuster.x_end=18.5").steps}
    assert steps["adjuster"].x_end == steps["run"].x_start == 18.5
    apart = ("measured.channel.adjuster.x_end=18.5", "measured.channel.run.x_start=17.5")
    assert laid_out("redpoll", *apart).step("run").x_start == 17.5
    assert laid_out("redpoll", *apart).step("adjuster").x_end == 18.5
    front = {s.name: s for s in laid_out("redpoll", "measured.channel.adjuster.x_start=5.2").steps}
    assert front["access-slot"].x_end == 5.2


def test_a_round_end_stays_round() -> None:
    rounded = ("channel.ends=round", "measured.channel.run.width=5.9")
    run = laid_out("redpoll", *rounded).step("run")
    assert (run.width, run.corner_end) == (5.9, pytest.approx(2.95))


def test_the_other_way_to_say_a_length_gives_way() -> None:
    layout = laid_out("redpoll", "measured.fretboard.ends_at=470.5")
    assert layout.fretboard.x_end == 470.5
    assert layout.design.plan.fretboard.past_last_fret == 8.0


def test_inches_are_read_as_in_the_rest_of_the_file() -> None:
    layout = laid_out("redpoll", 'measured.channel.run.depth="3/8 in"')
    assert layout.step("run").depth == pytest.approx(9.525)


@pytest.mark.parametrize(
    ("measured", "says"),
    [
        ("channel.run.depth=96", r"measured\.channel\.run\.depth = 96: is 86\.70 mm off .*; measure it again"),
        ("channel.runs.depth=9", r"has no step 'runs'; its steps are run, adjuster, access-slot"),
        ("channel.run.bottom=9", r"channel\.run\.bottom = 9: is no measure of a step of the channel; known are depth"),
        ("channel.run.depht=9", r"channel\.run\.depht = 9: is no measure .*; did you mean \"depth\"\?"),
        ("channel.rnu.depth=9", r"has no step 'rnu'; .*; did you mean \"run\"\?"),
        ("neck.thicknes.fret_1=21", r"thicknes\.fret_1 = 21: is no length .*; did you mean \"thickness\"\?"),
        ("nck.thickness.fret_1=21", r"; did you mean \"neck\"\?"),
        ("heel.screws.0.yy=17", r"--set: measured\.heel\.screws\[0\]\.yy = 17: .*; did you mean \"y\"\?"),
        ("channel.adjuster.depth=0.2", r"leaves nothing of this step"),
        ("bars.width=4", r"measured\.bars\.width = 4: there is no \[bars\] in this design"),
        ("neck.thickness.fret_1=99", r"measured\.neck\.thickness\.fret_1 = 99: is too large"),
    ],
)
def test_mistakes_are_told_with_the_measured_key(measured: str, says: str) -> None:
    with pytest.raises(DesignError, match=says):
        lay_out(changed(design("redpoll"), [f"measured.{measured}"]))


# --- what is cut is frozen, what is not gets its new number ----------------------------------------------------------

TOO_DEEP = "measured.channel.run.depth=9.6"
THIN = ("neck.thickness.fret_1=18", "neck.thickness.fret_12=20")


def test_a_channel_too_deep_gives_the_thickness_to_carve_to() -> None:
    """T at x 17 at least 18.741 by the least wall in any direction, so T1 at least 18.874 with T12 = T1 + 2."""
    layout = laid_out("redpoll", TOO_DEEP)
    carve = least_carve(layout)
    assert carve is not None
    assert (carve.fret_1, carve.fret_12, carve.step) == (pytest.approx(18.88), pytest.approx(20.88), "run")
    back = replace(layout.back, t_1=18.874, t_12=20.874)
    assert back.thickness(17.0) == pytest.approx(18.741, abs=1e-3)
    wall = section_walls([back.section(17.0)], [opening(layout.step("run"), 17.0)])[0]
    assert wall == pytest.approx(3.0, abs=1e-3)
    finding = found("wall/run", "redpoll", TOO_DEEP)
    assert finding.verdict == "pass"


def test_the_findings_say_it() -> None:
    findings = found_all("redpoll", TOO_DEEP)
    run = findings["wall/run"]
    assert run.says.endswith(
        "; as built: channel.run.depth = 9.60 mm, planned 9.30 mm; "
        "carve no thinner than 18.88 mm at fret 1 and 20.88 mm at fret 12"
    )
    assert run.more == {"carve_at_fret_1": 18.88, "carve_at_fret_12": 20.88}
    assert run.more.keys() <= set(NEXT_CUT)
    told = {finding.check for finding in findings.findings if "as built" in finding.says}
    assert told == {"wall/run", "fit/run", "cutter/run", "cover/run", "section/nut"}
    assert not any("as built" in finding.says for finding in found_all("redpoll").findings)


@pytest.mark.parametrize(("by", "verdict"), [(0.0, "warn"), (-0.02, "fail")])
def test_carved_to_that_number_the_solid_keeps_its_wall_and_no_thinner(by: float, verdict: str) -> None:
    """Built and measured: 0.006 above the limit at 18.88 and 20.88, below it 0.02 thinner."""
    thin = (f"neck.thickness.fret_1={18.88 + by}", f"neck.thickness.fret_12={20.88 + by}")
    finding = found("wall/run", "redpoll", TOO_DEEP, *thin)
    assert finding.verdict == verdict
    assert finding.measured == pytest.approx(3.006 + by, abs=2e-3)


def test_remedies_leave_alone_what_is_cut() -> None:
    """Not the channel nor a lower rod once the run is cut, not the neck where it is carved."""
    deep = found("wall/run", "redpoll", TOO_DEEP, *THIN).remedy
    assert deep is not None
    both = ways_of(deep)[0]
    # 0.72 more for the worst case (glue plane, carve, measuring), in tenths
    assert both.set == {"neck.thickness.fret_1": 19.7, "neck.thickness.fret_12": 21.7}
    assert both.finer[-1].set == {"neck.thickness.fret_1": 18.88, "neck.thickness.fret_12": 20.88}
    assert "rod" not in deep.says
    carved = found("wall/run", "redpoll", *(f"measured.{size}" for size in THIN))
    assert carved.verdict == "fail"
    assert carved.remedy is None  # the fretboard is on: neither rod nor channel can be changed
    one = found("wall/run", "redpoll", TOO_DEEP, THIN[0], f"measured.{THIN[1]}").remedy
    assert one is not None
    assert one.set == {"neck.thickness.fret_1": 19.6}
    assert one.finer[-1].set == {"neck.thickness.fret_1": 18.82}
    both = found("wall/run", "redpoll", TOO_DEEP, *(f"measured.{size}" for size in THIN))
    assert both.verdict == "fail"
    assert both.remedy is None


def test_a_carved_neck_leaves_nothing_to_cut_under_its_fretboard() -> None:
    carved = laid_out("redpoll", "measured.neck.thickness.fret_1=18.5", "measured.neck.thickness.fret_12=20.5")
    assert next_cuts(carved) == NextCuts((), (), None)


def test_a_tenon_sawn_too_shallow_gives_the_depth_to_cut_to() -> None:
    """The anchor's pocket reaches into it, 10.38 deep: of 13.2 there must stay 3.0, so 10.20 at most. The anchor lies
    10.38 less 0.15 deep, so that it no longer fits."""
    layout = laid_out("wheatear", "measured.heel.tenon.depth=13.2")
    anchor = layout.step("anchor")
    assert anchor.x_end > layout.heel.x_joint
    assert dict(next_cuts(layout).no_deeper) == {"anchor": pytest.approx(10.2)}
    finding = found("wall/anchor", "wheatear", "measured.heel.tenon.depth=13.2")
    assert finding.more == {}
    told = tell_as_built([finding], layout)[0]
    assert told.more == {"cut_no_deeper": 10.2}
    assert f"; cut it no deeper than 10.20 mm, but what lies in it needs {anchor.depth - 0.15:.2f} mm" in told.says
    cut = laid_out("wheatear", "measured.heel.tenon.depth=13.2", "measured.channel.anchor.depth=10.2")
    assert next(wall for wall in cut.walls if wall.step == "anchor").wall == pytest.approx(3.0, abs=1e-6)


def test_frozen_keys() -> None:
    cut = design("redpoll", "measured.channel.run.width=6.2", "measured.heel.screws.0.y=-17.5", TOO_DEEP)
    for key in ("channel.wider_by", "channel.deeper_by", "heel.screws.0.y", "heel.screws", "heel"):
        assert changes_measured(cut, [key]), key
    for key in ("channel.adjuster_clearance", "channel.ends", "heel.screws.1.y", "rod.length", "neck.thickness.fret_1"):
        assert not changes_measured(cut, [key]), key
    assert not changes_measured(design("redpoll"), ["channel.wider_by", "heel"])
