"""A finding shows what it is held against, a cutter reaches by the way it is led, and a wall is one that matters."""

from __future__ import annotations

import json

import pytest
from neck_runs import findings_of, found, laid_out

from neckmodel.cli.terminal.lengths import range_or_limit
from neckmodel.findings import Finding, Findings
from neckmodel.report.words import limit
from neckmodel.writers.folders.previous import _findings
from neckmodel.writers.jsons import dumps, findings_json

SHORT = ("workshop.cutters.0.stick_out=20", "workshop.cutters.1.stick_out=20")
BASS_AT_THE_HEEL = (
    'rod.adjuster_at="heel"',
    "rod.length=545",
    "rod_place.from_nut=10",
    "rod_place.past_joint=10",
)


# --- cutters ---------------------------------------------------------------------------------------------------------
def test_a_cutter_that_reaches_along_the_fence_passes_though_no_template_fits() -> None:
    """9.30 deep and 8 of base plate: 17.30 of the 20.00; a template could be 2.70 thick, and 6 is the least."""
    finding = found("cutter/run", "redpoll", *SHORT)
    assert (finding.verdict, finding.measured) == ("pass", pytest.approx(20.0 - 17.3))
    assert "along the fence" in finding.says
    assert "17.30 mm of stick-out" in finding.says
    assert "work along the fence" in finding.says
    assert "template" not in found("cutter/run", "redpoll").says


def test_a_sled_is_named_where_it_takes_one() -> None:
    finding = found("cutter/run", "wheatear")
    assert "on a sled's rails" in finding.says
    assert finding.measured == pytest.approx(38.0 - (12.15 + 6.0 + 8.0), abs=1e-3)


def test_corners_are_told_with_place_and_area() -> None:
    """2 x 3.0 squared x (1 - pi/4) at either end of redpoll's run."""
    says = found("cutter/run", "redpoll").says
    assert "3.86 mm² at x 17.00 mm, 3.86 mm² at x 428.00 mm" in says


# --- what it is held against -----------------------------------------------------------------------------------------
def test_the_play_of_a_fit_is_held_against_the_range_that_it_shows() -> None:
    """A rod, a washer and an anchor in a channel 0.20 wider pass, in one 0.22 wider none does."""
    for wider, verdict in ((0.20, "pass"), (0.22, "warn")):
        for name in ("fit/run", "fit/anchor", "fit/washer"):
            finding = found(name, "wheatear", f"channel.wider_by={wider}")
            assert (finding.verdict, finding.measured) == (verdict, pytest.approx(wider, abs=1e-4)), name
            assert (finding.held, finding.limit) == ((0.0, 0.2), 0.2)
            assert (range_or_limit(finding, "mm"), limit(finding, "mm")) == ("0-0.2", "0.00 mm to 0.20 mm")


def test_clearance_of_an_adjuster_shows_its_range() -> None:
    finding = found("fit/adjuster", "redpoll")
    assert (finding.held, finding.limit) == ((0.5, 1.5), 0.0)
    assert range_or_limit(finding, "mm") == "0.5-1.5"


def test_a_rod_too_far_below_shows_that_range() -> None:
    finding = found("fit/run", "redpoll", "channel.deeper_by=0.35")
    assert (finding.verdict, finding.measured) == ("warn", pytest.approx(0.35))
    assert range_or_limit(finding, "mm") == "0-0.3"


@pytest.mark.parametrize(
    ("function", "preset", "over", "says"),
    [
        ("check_fit", "wheatear", (), "≤0.3"),  # fit/strip
        ("check_overlaps", "redpoll", (), "≤0.0001"),
        ("check_stock", "redpoll", ("board.grain_slope=0.02",), "≤0.0833"),
        ("check_strength", "pipit", (), "≤0.3"),  # strength/relief of a neck without a rod
    ],
)
def test_a_limit_that_must_not_be_passed_upward_says_so(
    function: str, preset: str, over: tuple[str, ...], says: str
) -> None:
    assert says in [range_or_limit(finding, "mm") for finding in findings_of(function, preset, *over)]


def test_json_adds_the_range_and_changes_nothing() -> None:
    fit, wall = found("fit/run", "redpoll"), Finding("wall/run", "neck", "pass", "", 4.88, 0.04, 3.0)
    told = {one["check"]: one for one in findings_json(Findings("redpoll", (fit, wall), ()))["findings"]}
    more = told["fit/run"]["more"]
    assert (told["fit/run"]["limit"], more["range_from"], more["range_to"]) == (0.2, 0.0, 0.2)
    assert (told["wall/run"]["limit"], told["wall/run"]["more"]) == (3.0, {})
    back = _findings(json.loads(dumps(findings_json(Findings("redpoll", (fit, wall), ())))))
    assert (back["fit/run"].held, back["fit/run"].more) == (fit.held, fit.more)
    assert (back["wall/run"].held, back["wall/run"].spare) == (None, wall.spare)
    assert range_or_limit(wall, "mm") == "3.00"
    assert range_or_limit(fit, "mm", fancy=False) == "0-0.2"


def test_what_one_line_leaves_of_the_play_is_told_beside_it() -> None:
    assert "comes out 6.00 mm wide, which leaves 0.00 mm" in found("fit/run", "redpoll").says
    assert "in one line" not in found("fit/run", "dunnock").says  # 5.5 is narrower than the rod


# --- walls that are none ---------------------------------------------------------------------------------------------
def test_no_wall_is_told_between_the_tuners_and_a_slot_at_the_heel() -> None:
    """The length of the neck lies between them; at the head the access slot is near enough to matter."""
    slot = laid_out("dunnock", *BASS_AT_THE_HEEL).step("access-slot")
    assert slot.x_start > 500.0
    names = [finding.check for finding in findings_of("check_hole_walls", "dunnock", *BASS_AT_THE_HEEL)]
    assert "wall/tuner" not in names
    assert "wall/screw" in names
    assert found("wall/tuner", "dunnock").measured < 50.0
