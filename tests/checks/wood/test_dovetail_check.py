"""heel/dovetail and heel/shoulder on solids, and their remedies tried."""

from __future__ import annotations

import pytest
from dovetail_samples import CHANNEL, DOVETAIL
from ends_samples import design
from measured_runs import measured_parts

from neckmodel.checks.bench import Bench
from neckmodel.checks.wood.dovetail import check_dovetail
from neckmodel.findings import FAIL, PASS, WARN, Finding, ways_of
from neckmodel.layout import lay_out
from neckmodel.layout.channel.root import root_wood
from neckmodel.layout.heel.dovetail import Dovetail


def found(*sets: str) -> dict[str, Finding]:
    layout = lay_out(design(DOVETAIL, sets=(*CHANNEL, *sets)))
    return {finding.check: finding for finding in check_dovetail(Bench(measured_parts(layout)))}


def test_what_the_solids_show() -> None:
    findings = found()
    root, shoulder = findings["heel/dovetail"], findings["heel/shoulder"]
    assert (root.verdict, shoulder.verdict) == (PASS, PASS)
    assert root.measured == pytest.approx(10.537, abs=1e-3)
    assert "half its width at the bottom" in root.says
    assert shoulder.measured == pytest.approx(3.378, abs=shoulder.error)


def test_a_root_too_slender_and_each_way_to_mend_it() -> None:
    """26 wide: 26/2 - 19 tan 12 - 62 tan 5 = 3.537 at the bottom."""
    root = found("heel.tenon.width=26")["heel/dovetail"]
    assert (root.verdict, root.measured) == (FAIL, pytest.approx(3.537, abs=1e-3))
    ways = ways_of(root.remedy)
    assert {key for way in ways for key in way.set} >= {"heel.tenon.width", "heel.tenon.taper", "heel.tenon.depth"}
    for way in ways:
        sets = ("heel.tenon.width=26", *(f"{key}={value}" for key, value in way.set.items()))
        layout = lay_out(design(DOVETAIL, sets=(*CHANNEL, *sets)))
        assert isinstance(layout.heel.tenon, Dovetail)
        assert root_wood(layout.heel.tenon, layout.steps).wood >= 5.0


def test_the_channel_may_be_what_leaves_too_little() -> None:
    """24 wide, taper 1: 12 - 19 tan 12 - 9.3 tan 1 - 3.05 = 4.749 beside the run."""
    root = found("heel.tenon.width=24", "heel.tenon.taper=1")["heel/dovetail"]
    assert (root.verdict, root.measured) == (FAIL, pytest.approx(4.749, abs=1e-3))
    assert "beside the run" in root.says


def test_a_narrow_shoulder_warns_and_each_way_widens_it() -> None:
    shoulder = found("heel.tenon.width=42", "heel.width.cap=30")["heel/shoulder"]
    assert shoulder.verdict == WARN
    ways = ways_of(shoulder.remedy)
    assert {key for way in ways for key in way.set} == {"heel.tenon.width", "heel.width.cap"}
    for way in ways:
        sets = ("heel.tenon.width=42", "heel.width.cap=30", *(f"{key}={value}" for key, value in way.set.items()))
        assert found(*sets)["heel/shoulder"].verdict == PASS


def test_no_dovetail_no_findings() -> None:
    assert check_dovetail(Bench(measured_parts(lay_out(design())))) == []
