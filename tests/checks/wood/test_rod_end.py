"""`wall/rod-end`: wood beyond the channel's end, by hand, on both sides of its limit."""

from __future__ import annotations

import pytest
from neck_runs import found, laid_out


@pytest.mark.parametrize(("cut_out", "verdict"), [(433.0, "pass"), (431.1, "warn"), (430.5, "fail")])
def test_wood_to_a_cut_out(cut_out: float, verdict: str) -> None:
    """Redpoll's run ends at 428.0: 5.0, 3.1 and 2.5 mm are left to the cut-out, 0.2 less in the worst case."""
    assert laid_out("redpoll").step("run").x_end == 428.0
    finding = found("wall/rod-end", "redpoll", f"body.cutouts=[{{from = {cut_out}, to = 460.0}}]")
    assert finding.measured == pytest.approx(cut_out - 428.0, abs=1e-3)
    assert finding.worst_case == pytest.approx(cut_out - 428.2, abs=1e-3)
    assert finding.verdict == verdict
    assert ("short" in finding.says) is (verdict == "fail")
