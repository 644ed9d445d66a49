"""A neck with neither rod nor bar: how far its strings may bow it."""

from __future__ import annotations

import numpy as np
import pytest
from kind_samples import KNOT, design, laid_out
from strength_samples import findings, frame_relief

from neckmodel.errors import DesignError
from neckmodel.findings import Finding
from neckmodel.geometry.types import Floats
from neckmodel.strength.bending.beam import relief
from neckmodel.strength.estimate import estimate
from neckmodel.strength.materials.woods import find_wood
from neckmodel.strength.sections.cells import cell_edges, middles
from neckmodel.strength.sections.neck import ROUND, fretboard_moments
from neckmodel.strength.sections.section import Moments, Stiffness, polygon, stiffness

PULL, AT_NUT, AT_BRIDGE = 375.0, 9.0, 14.5  # N; mm, the line of the strings


def _wood(x: Floats) -> Moments:
    return polygon(np.stack([laid_out(KNOT).back.section(float(v)).at(ROUND) for v in x]))


def _stiffness(x: Floats, whole: bool) -> Stiffness:
    """By sections, without swells: Spanish-cedar under ebony of the Wood Handbook's table, times 1.10."""
    cedar, ebony = find_wood("Spanish-cedar"), find_wood("ebony")
    assert cedar is not None
    assert ebony is not None
    assert (cedar.modulus, ebony.modulus) == pytest.approx((10890.0, 18590.0), abs=1e-9)
    board = fretboard_moments(laid_out(KNOT).fretboard, x)[0 if whole else 1]
    return stiffness([(cedar.modulus, _wood(x)), (ebony.modulus, board)])


def _moment(x: Floats, neutral: Floats) -> Floats:
    return np.asarray(PULL * (AT_NUT + (AT_BRIDGE - AT_NUT) * x / 650.0 - neutral))


def _edges() -> Floats:
    layout = laid_out(KNOT)
    return cell_edges([0.0, layout.frets.x(1), layout.heel.x_joint])


@pytest.mark.parametrize(("whole", "bow"), [(True, 0.085), (False, 0.135)])
def test_relief_as_worked_out_by_hand(whole: bool, bow: float) -> None:
    """To the digit printed; the tensions come to the pull."""
    layout, edges = laid_out(KNOT), _edges()
    assert sum(string.tension or 0.0 for string in layout.design.strings.each) == PULL
    x = middles(edges)
    stiff = _stiffness(x, whole)
    found, at = relief(edges, _moment(x, stiff.neutral) / stiff.bending, layout.frets.x(1), layout.heel.x_joint)
    assert round(found, 3) == bow
    assert round(-12 * float(np.log2(1 - at / 650.0)), 1) == 5.6


def test_likely_relief_is_the_mean_of_both() -> None:
    found = []
    for whole in (True, False):
        edges = _edges()
        x = middles(edges)
        stiff = _stiffness(x, whole)
        layout = laid_out(KNOT)
        found.append(
            relief(edges, _moment(x, stiff.neutral) / stiff.bending, layout.frets.x(1), layout.heel.x_joint)[0]
        )
    assert round(sum(found) / 2, 3) == 0.110


def test_relief_by_finite_elements() -> None:
    """A frame of an element a cell, the strings' pull in it as a load at the nut: no moment is put in. Its nodes stand
    between the cells' neutral axes, and it is loaded along its own bent line: within 1 %."""
    layout = laid_out(KNOT)
    edges = cell_edges([0.0, layout.frets.x(1), layout.heel.x_joint], 200)
    x = middles(edges)
    stiff = _stiffness(x, whole=True)
    up = PULL * (AT_BRIDGE - AT_NUT) / 650.0  # the line of the pull climbs toward the bridge
    framed = frame_relief(edges, stiff, [(0, PULL, up, AT_NUT)], layout.frets.x(1), layout.heel.x_joint)
    by_hand = relief(edges, _moment(x, stiff.neutral) / stiff.bending, layout.frets.x(1), layout.heel.x_joint)[0]
    assert abs(framed) == pytest.approx(by_hand, rel=0.01)


@pytest.mark.parametrize(("fret", "neutral", "bending"), [(1, -2.082, 4.937e8), (7, -2.560, 6.218e8)])
def test_sections_as_worked_out_by_hand(fret: int, neutral: float, bending: float) -> None:
    found = _stiffness(np.array([laid_out(KNOT).frets.x(fret)]), whole=True)
    assert round(float(found.neutral[0]), 3) == neutral
    assert float(f"{found.bending[0]:.3e}") == bending


def _relief(*overrides: str) -> Finding:
    return findings(laid_out(KNOT, *overrides))["strength/relief"]


def test_the_likely_relief_decides() -> None:
    """Fails where the likely relief, new, is over the limit; warns where only the high end or the years are."""
    found = estimate(laid_out(KNOT))
    new, years = found.relief, found.relief_years
    assert new.low < new.likely < new.high < years.high
    for limit, verdict in (
        (new.likely - 1e-4, "fail"),
        (new.likely + 1e-4, "warn"),
        (years.high - 1e-4, "warn"),
        (years.high + 1e-4, "pass"),
    ):
        finding = _relief(f"limits.strength_relief={limit}")
        assert (finding.verdict, finding.limit) == (verdict, limit)
        assert finding.measured == pytest.approx(new.likely, abs=1e-4)
        assert (finding.remedy is not None) == (verdict == "fail")


@pytest.mark.parametrize(
    ("overrides", "limit"),
    [
        ((), 0.35),  # a nylon-string instrument
        (("design.instrument=steel-string", "heel.kind=bolted"), 0.30),
        (("design.instrument=steel-string", "strings.each.5.material=nylon", "strings.each.5.tension=67.0"), None),
    ],
)
def test_nylon_may_have_more_relief(overrides: tuple[str, ...], limit: float | None) -> None:
    """Common practice, no source."""
    if limit is None:  # a tension beside a material is one too many
        with pytest.raises(DesignError, match="material"):
            design(KNOT, *overrides)
        return
    assert design(KNOT, *overrides).limits.strength_relief == limit


@pytest.mark.parametrize(
    "string",
    ['{diameter = 1.02, material = "nylon"}', '{wound = {core = 0.5, on = "nylon", wrap = 0.12, material = "copper"}}'],
)
def test_one_string_of_nylon_is_enough(string: str) -> None:
    text = KNOT.replace('instrument = "nylon-string"', 'instrument = "steel-string"')
    assert design(text).limits.strength_relief == 0.30
    text = text.replace('{note = "G3", diameter = 1.02, tension = 54.0}', string.replace("{", '{note = "G3", ', 1))
    assert design(text).limits.strength_relief == 0.35


def test_necks_with_bars_keep_their_verdict() -> None:
    """A bar in place of nothing: no limit of `strength_relief`, and its key has no effect."""
    with_bar = ("bars.width=6", "bars.height=10", "bars.length=322", "limits.strength_relief=0.01")
    found = _relief(*with_bar)
    assert (found.verdict, found.limit) == ("pass", 0.35)  # usual for nylon strings
