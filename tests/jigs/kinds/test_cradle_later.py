"""A cradle for a neck whose bass side has a step beside a string that starts later: no saddle holds the step."""

from __future__ import annotations

from later_samples import laid_out

from neckmodel.jigs import inspect, make_jig
from neckmodel.jigs.kinds.cradle import LONG, places


def test_no_saddle_stands_on_the_step_and_the_cork_is_even() -> None:
    layout = laid_out()
    later = layout.fretboard.later
    assert later is not None
    for saddle in places(layout):
        assert saddle.x + LONG / 2 < later.x_from or saddle.x - LONG / 2 > later.x_to
    findings = inspect(make_jig(layout, "cradle"))
    assert [f.says for f in findings.findings if f.check == "jig/cork" and f.verdict != "pass"] == []
