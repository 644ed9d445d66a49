"""A dovetail's templates: refused without one, and their edges against the dovetail's lines by the kernel."""

from __future__ import annotations

import math

import pytest
from dovetail_samples import CHANNEL, DOVETAIL
from ends_samples import TENON, design
from ends_solids import box, share

from neckmodel.jigs import JigError, inspect, kind_named, make_jig
from neckmodel.layout import lay_out
from neckmodel.solids.kernel.gate import volume


def test_it_needs_a_dovetail() -> None:
    with pytest.raises(JigError, match="has no dovetail"):
        kind_named("dovetail-template").refuse(lay_out(design(TENON)))


@pytest.mark.parametrize("hand", ["right", "left"])
def test_it_passes_its_own_findings(hand: str) -> None:
    layout = lay_out(design(DOVETAIL, sets=(*CHANNEL, f"design.hand={hand}")))
    findings = inspect(make_jig(layout, "dovetail-template"))
    assert [f"{f.check} {f.part}: {f.says}" for f in findings.findings if f.verdict != "pass"] == []
    assert {"jig/dovetail", "jig/fit", "jig/overhang"} <= {f.check for f in findings.findings}


def test_plates_and_opening_are_as_large_as_the_dovetail() -> None:
    """By volume: the upright plate 4 thick of the end's trapezium, under the glue plane; the opening 4 thick of the
    dovetail's plan."""
    layout = lay_out(design(DOVETAIL, sets=CHANNEL))
    neck, body = (piece.solid for piece in kind_named("dovetail-template").draft(layout).pieces)
    joint, along, down = layout.heel.x_joint, math.tan(math.radians(12)), math.tan(math.radians(5))
    end = share(neck, box((joint + 19, joint + 60), (-100, 100), (-100, 0)))
    assert end == pytest.approx(4 * 62 * (40 - 62 * down), rel=1e-6)
    tongue = share(neck, box((joint, joint + 19), (-100, 100), (0, 4)))
    assert tongue == pytest.approx(4 * 19 * (40 - 19 * along), rel=1e-6)
    notch = 4 * 1.5 * 1.5  # a triangle 1.5 deep and 3 wide at the centre line
    assert layout.design.body.top == 0.0  # the fretboard lies on the top
    opening = 4 * 19 * (40 - 19 * along)
    assert volume(body) == pytest.approx(4 * (19 + 30) * (40 + 60) - opening - notch, rel=1e-4)
