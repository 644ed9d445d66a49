"""What is cut may grow and never shrink: the next cut of a step too small, and remedies that leave cut wood alone."""

from __future__ import annotations

import pytest
from neck_runs import as_overrides, design, findings_of, found_all, laid_out, proved

from neckmodel.checks.remedies.fixed import changes_measured, puts_back
from neckmodel.checks.remedies.remedy import as_set, layout_with
from neckmodel.checks.remedies.words import worded
from neckmodel.checks.trial import failing_of
from neckmodel.design import changed
from neckmodel.errors import DesignError
from neckmodel.findings import ways_of
from neckmodel.layout import lay_out


# --- a step that came out too small is cut again --------------------------------------------------------------------
@pytest.mark.parametrize(
    ("measured", "check", "says", "to"),
    [
        # a rod 9.2 high and 6.0 wide from x 7, 420 long, with 0.1 under it, 0.1 beside it and 1.0 beyond it
        ("run.depth=9.1", "fit/run", "cut the run to 9.30 mm deep", {"run.depth": 9.3}),
        ("run.width=5.9", "fit/run", "widen the run to 6.10 mm", {"run.width": 6.1}),
        ("run.x_end=425", "fit/end", "lengthen the run to x 428.00 mm", {"run.x_end": 428.0}),
        # the head's step stands at x -6
        (
            "access-slot.x_start=0",
            "access/swing",
            "lengthen the access slot back to x -6.00 mm",
            {"access-slot.x_start": -6.0},
        ),
    ],
)
def test_a_step_cut_too_small_gets_its_next_cut(measured: str, check: str, says: str, to: dict[str, float]) -> None:
    small = f"measured.channel.{measured}"
    before = found_all("redpoll", small)
    for failing in failing_of(before):
        ways = ways_of(before[failing].remedy)
        assert [way.says for way in ways] == [says], failing
        assert ways[0].set == {f"measured.channel.{key}": value for key, value in to.items()}
    assert check in failing_of(before)
    assert found_all("redpoll", small, *as_overrides(ways[0].set)).passed


def test_what_is_short_in_two_ways_is_cut_in_both() -> None:
    small = ("measured.channel.run.width=5.9", "measured.channel.run.x_end=425")
    remedy = proved("redpoll", *small)["overlap/neck-rod"].remedy
    assert remedy is not None
    assert remedy.set == {"measured.channel.run.width": 6.1, "measured.channel.run.x_end": 428.0}


def test_a_channel_that_is_too_short_is_told_by_how_much() -> None:
    """The anchor ends at x 427."""
    finding = {f.check: f for f in findings_of("check_fit", "redpoll", "measured.channel.run.x_end=425")}["fit/end"]
    assert finding.says == "the run ends 2.00 mm before the anchor does: it is too short"
    assert finding.measured == pytest.approx(-2.0, abs=1e-6)
    assert finding.remedy is None


def test_a_round_end_that_is_cut_may_still_be_squared() -> None:
    """Corners of radius 3 in a run 6.1 wide, an anchor 6.0 wide: q = 3 - 0.05, 3 - sqrt(3**2 - 2.95**2) = 2.45."""
    cut = ("channel.ends=round", "measured.channel.run.x_end=428.2")
    finding = {f.check: f for f in findings_of("check_fit", "redpoll", *cut)}["fit/end"]
    assert finding.says == ("the anchor's square corners need 2.45 mm beyond them in this round end, there are 1.20 mm")
    assert finding.remedy is not None
    assert finding.remedy.set == {"channel.ends": "squared"}
    squared = design("redpoll", "measured.channel.run.x_end=428.2")
    assert layout_with(squared, {"channel.ends": "round"}) is None  # nobody puts the corners back


def test_in_a_file_in_inches_a_measured_length_keeps_its_unit() -> None:
    plan = design("redpoll")
    inches = plan.model_copy(update={"design": plan.design.model_copy(update={"units": "in"})})
    assert as_set(inches, {"measured.channel.run.depth": 9.3}) == {"measured.channel.run.depth": "0.367 in"}
    assert as_set(plan, {"measured.channel.run.depth": 9.3}) == {"measured.channel.run.depth": 9.3}
    assert worded(plan, {"measured.channel.run.depth": 9.3}) == "cut the run to 9.30 mm deep"


# --- what is cut stays cut -------------------------------------------------------------------------------------------
LONG_ROD = ("rod.length=458", "measured.channel.run.depth=9.35")  # the run is cut to x 7 + 458 + 1 = 466
FAR_JOINT = ("rod_place.past_joint=60", "measured.channel.run.depth=9.35", "measured.channel.run.width=6.15")


def test_no_remedy_ends_a_cut_run_earlier_or_moves_it() -> None:
    long, far = design("redpoll", *LONG_ROD), design("redpoll", *FAR_JOINT)
    assert laid_out("redpoll", *LONG_ROD).step("run").x_end == pytest.approx(466.0)
    assert layout_with(long, {"rod.length": 457.4}) is None
    assert layout_with(long, {"heel.wood_ends_at": 469.01}) is not None
    assert layout_with(far, {"rod_place.from_nut": 26.02}) is None  # the run would begin at 36.02, cut from 17.00
    assert layout_with(design("redpoll", "rod_place.past_joint=60"), {"rod_place.from_nut": 26.02}) is not None


def test_a_shorter_rod_in_a_run_whose_ends_are_measured_may_be_had() -> None:
    ends = ("measured.channel.run.x_start=17", "measured.channel.run.x_end=466")
    after = layout_with(design("redpoll", *LONG_ROD, *ends), {"rod.length": 457.4})
    assert after is not None
    assert after.step("run").x_end == 466.0


def test_the_remedies_of_a_run_cut_too_near_the_wood_s_end_leave_it_alone() -> None:
    """2.41 of wood is left behind x 466; nothing but more wood mends it, and it is not the carve that lacks."""
    findings = proved("redpoll", *LONG_ROD)
    for check in ("wall/run", "wall/rod-end"):
        keys = {key for way in ways_of(findings[check].remedy) for key in way.set}
        assert keys == {"heel.wood_ends_at"}
    assert "carve no" not in findings["wall/run"].says
    assert findings["wall/run"].more == {}


@pytest.mark.parametrize(
    ("before", "after", "back"),
    [
        ("channel.run.width=6.1", "channel.wider_by=0.0", False),  # the width stands as measured
        ("channel.run.depth=9.3", "channel.wider_by=0.05", True),
        ("channel.run.depth=9.3", "channel.wider_by=0.2", False),
        ("channel.run.width=6.1", "rod.height=9.0 rod.block.height=9.0 rod.anchor.height=9.0", True),
        ("channel.run.width=6.1", "channel.deeper_by=0.3", False),
        ("channel.run.width=6.1", "channel.end_clearance=0.5", True),
        ("channel.run.depth=9.25", "measured.channel.run.depth=9.3", False),
        ("channel.run.depth=9.25", "measured.channel.run.depth=9.2", True),
        ("channel.run.width=6.1", "channel.adjuster_clearance=0.6", False),  # the pocket is not cut yet
        ("channel.adjuster.x_start=6", "channel.adjuster_clearance=0.6", True),
    ],
)
def test_a_cut_step_may_grow_and_not_shrink(before: str, after: str, back: bool) -> None:
    cut = f"measured.{before}"
    assert puts_back(laid_out("redpoll", cut), laid_out("redpoll", cut, *after.split())) is back


def test_a_measure_may_be_set_anew() -> None:
    cut = design("redpoll", "measured.channel.run.width=5.9")
    assert not changes_measured(cut, ["measured.channel.run.width"])
    assert changes_measured(cut, ["channel.wider_by"])


# --- measured sizes that no neck can be laid out with ---------------------------------------------------------------
THIN = ("measured.neck.thickness.fret_1=17.6", "measured.neck.thickness.fret_12=19.8")


def test_a_carved_neck_with_little_wood_under_the_head_is_a_finding() -> None:
    """Refused while it can still be carved otherwise; carved, the step is to be lower."""
    finding = findings_of("check_step", "redpoll", *THIN)[0]
    assert (finding.check, finding.verdict) == ("head/step", "fail")
    assert finding.measured == pytest.approx(2.87, abs=0.005)
    assert finding.remedy is not None
    assert finding.remedy.set == {"head.drop": 9.84}
    planned = ("neck.thickness.fret_1=17.6", "neck.thickness.fret_12=19.8")
    assert laid_out("redpoll", *planned, "head.drop=9.84").head.drop == 9.84
    with pytest.raises(DesignError, match=r"head\.drop = 10\.0: leaves 2\.87 mm .*; at most 9\.84 mm"):
        laid_out("redpoll", *planned)
    with pytest.raises(DesignError, match=r"head\.drop"):
        laid_out("redpoll", *planned, "head.drop=9.85")
    assert findings_of("check_step", "redpoll", *THIN, "head.drop=9.84")[0].verdict == "warn"
    assert findings_of("check_step", "redpoll") == ()


def test_a_step_sawn_too_high_gives_the_thickness_to_carve_to() -> None:
    finding = findings_of("check_step", "redpoll", "measured.head.drop=12.95")[0]
    assert finding.verdict == "fail"
    assert finding.remedy is not None
    assert finding.remedy.set == {"neck.thickness.fret_1": 20.68, "neck.thickness.fret_12": 22.68}
    after = findings_of("check_step", "redpoll", "measured.head.drop=12.95", *as_overrides(finding.remedy.set))[0]
    assert after.measured == pytest.approx(3.0, abs=0.011)
    assert after.measured is not None
    assert after.measured >= 3.0
    assert findings_of("check_step", "redpoll", *THIN, "measured.head.drop=10")[0].remedy is None


def test_a_heel_measured_too_shallow_gives_the_thickness_to_carve_to() -> None:
    """Planned 20.5 and 22.5: 0.97 thinner, so that 16.5 of heel is 0.5 more than the wood at the joint, T - 6."""
    shallow = "measured.heel.depth=16.5"
    says = r"measured\.heel\.depth = 16\.5: .*; as built: heel\.depth = 16\.50 mm, planned 19\.00 mm; "
    with pytest.raises(DesignError, match=says + r"carve no thicker than 19\.53 mm at fret 1 and 21\.53 mm at fret 12"):
        laid_out("redpoll", shallow)
    back = laid_out("redpoll", shallow, "neck.thickness.fret_1=19.53", "neck.thickness.fret_12=21.53").back
    x = [640 * (1 - 2 ** (-fret / 12)) for fret in (1, 12, 16)]
    assert back.depth(x[2]) == pytest.approx(19.53 + 2 * (x[2] - x[0]) / (x[1] - x[0]) - 6)
    assert 16.0 - 0.011 < back.depth(x[2]) <= 16.0
    with pytest.raises(DesignError, match=r"heel\.depth"):
        laid_out("redpoll", shallow, "neck.thickness.fret_1=19.54", "neck.thickness.fret_12=21.54")


def test_a_refusal_names_the_measured_size_behind_it() -> None:
    carved = ("measured.neck.thickness.fret_1=23.33", "measured.neck.thickness.fret_12=25.33")
    says = r"heel\.depth = 19\.0: .*; as built: neck\.thickness\.fret_1 = 23\.33 mm, planned 21\.50 mm, .*; at least "
    with pytest.raises(DesignError, match=says):
        laid_out("dunnock", *carved)
    both = ("measured.heel.depth=16.5", "measured.neck.thickness.fret_1=20.4", "measured.neck.thickness.fret_12=22.5")
    with pytest.raises(DesignError, match=r"planned 19\.00 mm; at least 17\.49 mm; measure it again"):
        laid_out("redpoll", *both)
    with pytest.raises(DesignError) as plain:
        lay_out(changed(design("redpoll"), {"heel.depth": 17.0}))
    assert "as built" not in str(plain.value)
