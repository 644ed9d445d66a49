"""Moisture: the handbook's equation, closed forms, and what the check says of fret ends."""

from __future__ import annotations

import numpy as np
import pytest
from strength_samples import findings, laid_out

from neckmodel.findings import Finding
from neckmodel.layout import Layout
from neckmodel.layout.channel import BAR_FIT
from neckmodel.strength.along import NeckSections, back_outlines
from neckmodel.strength.beam import cell_edges, middles
from neckmodel.strength.moisture import equilibrium, moisture_estimate, seasonal_bow, width_change
from neckmodel.strength.section import Floats, Moments, rectangle
from neckmodel.strength.woods import find_wood


@pytest.mark.parametrize(
    ("humidity", "percent"), [(0.2, 4.4), (0.3, 6.1), (0.4, 7.7), (0.5, 9.4), (0.6, 11.3), (0.7, 13.6), (0.8, 16.5)]
)
def test_equilibrium_moisture(humidity: float, percent: float) -> None:
    """Wood Handbook equation 4-6 at 21.1 C, worked out apart; the older equation of 2010 has 9.2 at 50 % (memory)."""
    assert equilibrium(humidity) == pytest.approx(percent, abs=0.05)


def test_width_of_a_fretboard_drying() -> None:
    assert width_change(56.0, 0.0027, -3.0) == pytest.approx(-0.454, abs=5e-4)


# --- bow by unlike growth along the grain ----------------------------------------------------------------------------
APART, MOST = 0.001 / 30, 0.002 / 30  # of normal wood for each percent: between least and most, and the most itself


def timoshenko(strain: float, thickness: tuple[float, float], modulus: tuple[float, float]) -> float:
    """Curvature of two glued layers, the first growing by `strain` more: S. Timoshenko, "Analysis of bi-metal
    thermostats", Journal of the Optical Society of America 11 (1925), 233:
    `6 e (1+m)**2/(h (3 (1+m)**2 + (1 + m n)(m**2 + 1/(m n))))`, m the ratio of thicknesses, n of moduli, h both
    thicknesses."""
    m, n, h = thickness[0] / thickness[1], modulus[0] / modulus[1], sum(thickness)
    return 6 * strain * (1 + m) ** 2 / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))))


def even(board: float, wood: float, bar: float = 0.0, length: float = 400.0) -> NeckSections:
    """A bar of rectangles one over the other, 50 wide: fretboard, wood, and under both a glued bar; mm thick."""
    edges = cell_edges([0.0, length])

    def layer(low: float, high: float) -> Moments:
        return rectangle(np.full(len(edges) - 1, 50.0), low, high)

    top, level = layer(0.0, board), np.zeros(len(edges) - 1)
    bars = (layer(-wood - bar, -wood),) if bar else ()
    return NeckSections(edges, middles(edges), layer(-wood, 0.0), top, top, bars, level, level, level)


@pytest.mark.parametrize(
    ("thick", "moduli"),
    [((5.5, 14.0), (13_530.0, 13_860.0)), ((6.0, 11.0), (18_590.0, 11_330.0)), ((5, 5), (1e4, 1e4))],
)
def test_two_even_layers_bow_by_timoshenkos_formula(thick: tuple[float, float], moduli: tuple[float, float]) -> None:
    """An even curvature's bow is `kappa l**2/8`, over the chord alone: 360 of the 400 mm. Equal layers: `3 e/(2 h)`."""
    kappa = timoshenko(APART * 5.5, thick, moduli)
    if thick[0] == thick[1]:
        assert kappa == pytest.approx(1.5 * APART * 5.5 / sum(thick))
    sections = even(*thick)
    assert seasonal_bow(sections, moduli[::-1], (), 5.5, (0.0, 400.0)) == pytest.approx(kappa * 400**2 / 8, rel=1e-9)
    assert seasonal_bow(sections, moduli[::-1], (), 5.5, (40.0, 400.0)) == pytest.approx(kappa * 360**2 / 8, rel=1e-9)


def test_a_bar_does_not_grow_with_the_wood() -> None:
    """Without a fretboard, wood on a bar: two layers, of which the wood alone grows, at most by 0.2 % in 30 %."""
    kappa = timoshenko(MOST * 5.5, (14.0, 2.0), (13_860.0, 125_000.0))
    bow = seasonal_bow(even(0.0, 14.0, 2.0), (13_860.0, 13_530.0), (125_000.0,), 5.5, (0.0, 400.0))
    assert bow == pytest.approx(kappa * 400**2 / 8, rel=1e-9)


STRIPS = (np.arange(1000) + 0.5) / 1000  # middles of level strips, as shares of a part's depth
CARBON = 125_000.0
Strips = tuple[Floats, Floats]  # of one part: areas mm2, heights mm


def strips_at(layout: Layout, x: float, outline: Floats) -> tuple[Strips, Strips, list[Strips]]:
    """Neck, fretboard and bars at x by their own widths. outline: the back's, from edge to edge."""
    deep, lowest = -outline[:, 1].min(), int(np.argmin(outline[:, 1]))
    z = -STRIPS * deep
    one, other = outline[: lowest + 1][::-1], outline[lowest:]  # both upward
    wide = abs(np.interp(z, other[:, 1], other[:, 0]) - np.interp(z, one[:, 1], one[:, 0]))
    cuts = [np.where(-z < s.depth_at(x), s.width, 0.0) for s in layout.steps if s.x_start < x < s.x_end and s.y == 0]
    wide = wide - np.max([np.zeros_like(z), *cuts], axis=0)
    strip = layout.rod.strip if layout.rod is not None else None
    if strip is not None and strip.x_start < x < strip.x_end:
        wide = wide + np.where(-z < min(strip.underside.at(x), strip.thickness), strip.width, 0.0)
    board = layout.fretboard
    fallen = board.thickness * (1 - STRIPS)  # the crown has fallen so far where y**2 = d (2 R - d)
    crown = 2 * np.minimum(board.half_width(x), np.sqrt(fallen * (2 * board.radius(x) - fallen)))
    bars = [
        (np.full(1000, bar.width * bar.height / 1000), -BAR_FIT / 2 - STRIPS * bar.height)
        for bar in layout.bars
        if bar.x_start < x < bar.x_end
    ]
    return (wide * deep / 1000, z), (crown * board.thickness / 1000, board.thickness * STRIPS), bars


def bow_by_strips(layout: Layout, moduli: tuple[float, float], grown: tuple[float, float]) -> float:
    """Bow off the chord from fret 1 to the joint when neck and fretboard grow so along themselves, and bars do not:
    strips summed, the curvature integrated twice by trapezoids over 801 places."""
    places = np.linspace(layout.frets.x(1), layout.heel.x_joint, 801)
    kappa = []
    for x, outline in zip(places.tolist(), back_outlines(layout.outside, places.tolist()), strict=True):
        neck, board, bars = strips_at(layout, x, outline)
        parts = [(moduli[0], grown[0], *neck), (moduli[1], grown[1], *board), *((CARBON, 0.0, *bar) for bar in bars)]
        axial = sum(e * area.sum() for e, _, area, _ in parts)
        middle = sum(e * (area * z).sum() for e, _, area, z in parts) / axial
        bending = sum(e * (area * (z - middle) ** 2).sum() for e, _, area, z in parts)
        kappa.append(sum(e * grows * (area * (z - middle)).sum() for e, grows, area, z in parts) / bending)
    step, turned = places[1] - places[0], np.array(kappa)
    slope = np.concatenate([[0.0], np.cumsum((turned[1:] + turned[:-1]) / 2 * step)])
    bent = np.concatenate([[0.0], np.cumsum((slope[1:] + slope[:-1]) / 2 * step)])
    return float(abs(bent - np.linspace(0.0, bent[-1], len(bent))).max())


@pytest.mark.parametrize(
    ("name", "neck"), [("redpoll", 13_860.0), ("wheatear", 11_330.0), ("pipit", 13_860.0), ("dunnock", 13_860.0)]
)
def test_the_bow_of_a_neck_agrees_with_strips_of_its_sections(name: str, neck: float) -> None:
    """Within 0.3 %. The fretboard grows by 0.2 % in 30 %, the wood by 0.1 %, for 5.543 % of moisture. pipit has a
    bar of carbon; wheatear a bent channel with its strip."""
    layout, season = laid_out(name), 5.543
    strips = bow_by_strips(layout, (neck, 13_530.0), (season * 0.001 / 30, season * 0.002 / 30))
    assert dried(layout).more["bow"] == pytest.approx(strips, rel=0.003)


def dried(layout: Layout) -> Finding:
    return findings(layout)["strength/moisture"]


def test_a_season_moves_a_neck() -> None:
    """35 to 65 % relative humidity are 6.86 and 12.40 % of moisture; quarter-sawn maple moves by 0.00165 a percent."""
    layout, maple, rosewood = laid_out("redpoll"), find_wood("maple"), find_wood("rosewood")
    assert maple is not None
    assert rosewood is not None
    found = moisture_estimate(layout, maple, rosewood)
    change = found.moisture[1] - found.moisture[0]
    assert change == pytest.approx(5.54, abs=0.01)
    assert found.neck is not None
    assert found.neck == pytest.approx(2 * layout.back.half_width(layout.heel.x_joint) * 0.00165 * change)
    flat = moisture_estimate(laid_out("redpoll", "board.rings=flat"), maple, rosewood)
    assert flat.neck == pytest.approx(found.neck * 0.00353 / 0.00165)
    assert flat.fretboard_quarter == found.fretboard_quarter


def test_fret_ends_by_hand() -> None:
    """Rosewood shrinks radially by 2.7 %: 1/(3000/2.7 - 20) = 0.000917 a percent, x 5.54 x the end's width, half a
    side. Flat-sawn, 5.8 %: 0.002012."""
    layout = laid_out("redpoll")
    width, found = 2 * layout.fretboard.half_width(layout.fretboard.x_end), dried(layout)
    assert found.verdict == "pass"
    assert found.measured is not None
    assert found.measured == pytest.approx(width * 5.543 / (3000 / 2.7 - 20) / 2, abs=2e-4)
    assert found.more["proud_quarter"] == found.measured
    assert found.more["proud_flat"] == pytest.approx(width * 5.543 / (3000 / 5.8 - 20) / 2, abs=2e-4)
    assert found.limit == 0.2
    assert found.worst_case is None  # another board is no worst case of this one
    assert "proud by 0.14 mm a side if quarter-sawn, 0.31 mm a side if flat-sawn: judged as quarter-sawn" in found.says
    assert "flat-sawn it is over the limit of 0.20 mm" in found.says
    assert "common practice" in found.basis


@pytest.mark.parametrize("name", ["dunnock", "garganey", "pipit", "redpoll", "wheatear", "whimbrel"])
def test_no_verdict_speaks_against_its_numbers(name: str) -> None:
    """A pass has no number that is held to the limit above it."""
    found = dried(laid_out(name))
    assert found.measured is not None
    assert (found.verdict, found.worst_case) == ("pass", None)
    assert found.measured + (found.error or 0.0) <= 0.2


def test_where_both_sawings_keep_to_the_limit_none_is_said_to_be_over() -> None:
    """teak-like: 2.5 % either way is 0.00085 a percent, 0.13 mm a side."""
    own = ("fretboard.wood=rosewood", "woods.rosewood.shrinkage_radial=2.5", "woods.rosewood.shrinkage_tangential=2.5")
    found = dried(laid_out("redpoll", *own))
    assert found.more["proud_quarter"] == found.more["proud_flat"] == pytest.approx(0.13, abs=0.003)
    assert "over the limit" not in found.says


@pytest.mark.parametrize(("wood", "verdict"), [("rosewood", "pass"), ("ebony", "warn"), ("maple", "warn")])
def test_woods_that_move_much_are_warned_of(wood: str, verdict: str) -> None:
    assert dried(laid_out("redpoll", f"fretboard.wood={wood}")).verdict == verdict


def test_the_bow_is_told_as_relief_is_measured() -> None:
    found = dried(laid_out("redpoll"))
    assert f"add up to {found.more['bow']:.2f} mm of relief, or take it away" in found.says


def test_a_bar_of_unknown_stuff_leaves_the_bow_untold() -> None:
    found = dried(laid_out("garganey", "bars.material=unobtainium"))
    assert found.measured is not None
    assert "bow" not in found.more
    assert "of relief" not in found.says


def test_a_wood_whose_movement_is_not_known_is_skipped_by_its_key() -> None:
    """wenge: only its flat-sawn movement is printed, so that stands for both."""
    skipped = dried(laid_out("redpoll", "fretboard.wood=bubinga"))
    assert skipped.verdict == "skipped"
    assert skipped.says.startswith("woods.bubinga.shrinkage_radial is not stated")
    known = dried(laid_out("redpoll", "fretboard.wood=bubinga", "woods.bubinga.shrinkage_radial=5.8"))
    assert known.verdict == "warn"
    wenge = dried(laid_out("redpoll", "fretboard.wood=wenge"))
    assert wenge.measured == wenge.more["proud_flat"]
    assert "quarter-sawn" not in wenge.says
    assert "judged as flat-sawn" in wenge.says
    assert "width at the joint" not in dried(laid_out("redpoll", "neck.wood=bubinga")).says
