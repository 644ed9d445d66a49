"""Moisture: the handbook's equation, closed forms, and what the check says of fret ends."""

from __future__ import annotations

import numpy as np
import pytest
from strength_samples import findings, laid_out

from neckmodel.findings import Finding
from neckmodel.geometry.types import Floats
from neckmodel.layout import Layout
from neckmodel.layout.rod.bars import BAR_FIT
from neckmodel.strength.materials.woods import find_wood
from neckmodel.strength.moisture import equilibrium, moisture_estimate, seasonal_bow, width_change
from neckmodel.strength.sections.cells import cell_edges, middles
from neckmodel.strength.sections.neck import NeckSections, back_outlines
from neckmodel.strength.sections.section import Moments, rectangle

# Wood Handbook (FPL-GTR-282), table 4-2: percent of moisture at 5, 10, ... 95 % relative humidity. Rows from memory, by
# temperature in °F; the table prints one decimal
TABLE_4_2 = {
    30: "1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.4 13.5 14.9 16.5 18.5 21.0 24.3",
    70: "1.3 2.5 3.5 4.5 5.4 6.2 6.9 7.7 8.5 9.2 10.1 11.0 12.0 13.1 14.4 16.0 17.9 20.5 23.9",
    80: "1.3 2.4 3.5 4.4 5.3 6.1 6.8 7.6 8.3 9.1 9.9 10.8 11.7 12.9 14.2 15.7 17.7 20.2 23.6",
    90: "1.2 2.3 3.4 4.3 5.1 5.9 6.7 7.4 8.1 8.9 9.7 10.5 11.5 12.6 13.9 15.4 17.3 19.8 23.3",
    100: "1.2 2.3 3.3 4.2 5.0 5.8 6.5 7.2 7.9 8.7 9.5 10.3 11.2 12.3 13.6 15.1 17.0 19.5 22.9",
}


@pytest.mark.parametrize("fahrenheit", TABLE_4_2)
def test_equilibrium_moisture_is_the_handbooks_table(fahrenheit: int) -> None:
    """To the table's own rounding, 0.05 %, and 0.003 % for the constants' three figures."""
    row = [float(percent) for percent in TABLE_4_2[fahrenheit].split()]
    found = [equilibrium(0.05 * (k + 1), (fahrenheit - 32) / 1.8) for k in range(len(row))]
    assert found == pytest.approx(row, abs=0.053)


def test_two_common_airs() -> None:
    """20 °C: 11.996 % at 65 % of humidity, 6.963 % at 35 %, worked out apart. (Equation 4-6, of a newer
    model, has 12.40 % and 6.86 % at 21.1 °C.)"""
    assert equilibrium(0.65, 20.0) == pytest.approx(11.996, abs=1e-3)
    assert equilibrium(0.35, 20.0) == pytest.approx(6.963, abs=1e-3)


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
    return NeckSections(edges, middles(edges), (layer(-wood, 0.0),), top, top, bars, (level,), level, level)


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
    under = (moduli[1:], moduli[0])
    assert seasonal_bow(sections, under, (), 5.5, (0.0, 400.0)) == pytest.approx(kappa * 400**2 / 8, rel=1e-9)
    assert seasonal_bow(sections, under, (), 5.5, (40.0, 400.0)) == pytest.approx(kappa * 360**2 / 8, rel=1e-9)


def test_a_bar_does_not_grow_with_the_wood() -> None:
    """Without a fretboard, wood on a bar: two layers, of which the wood alone grows, at most by 0.2 % in 30 %."""
    kappa = timoshenko(MOST * 5.5, (14.0, 2.0), (13_860.0, 125_000.0))
    bow = seasonal_bow(even(0.0, 14.0, 2.0), ((13_860.0,), 13_530.0), (125_000.0,), 5.5, (0.0, 400.0))
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
    """Within 0.3 %. The fretboard grows by 0.2 % in 30 %, the wood by 0.1 %, for 5.033 % of moisture. pipit has a
    bar of carbon; wheatear a bent channel with its strip."""
    layout, season = laid_out(name), 5.033
    strips = bow_by_strips(layout, (neck, 13_530.0), (season * 0.001 / 30, season * 0.002 / 30))
    assert dried(layout).more["bow"] == pytest.approx(strips, rel=0.003)


def dried(layout: Layout) -> Finding:
    return findings(layout)["strength/moisture"]


def test_a_season_moves_a_neck() -> None:
    """35 to 65 % relative humidity at 20 °C are 6.96 and 12.00 % of moisture; quarter-sawn maple moves by
    0.00165 a percent."""
    layout, maple, rosewood = laid_out("redpoll"), find_wood("maple"), find_wood("rosewood")
    assert maple is not None
    assert rosewood is not None
    found = moisture_estimate(layout, (maple,), rosewood)
    change = found.moisture[1] - found.moisture[0]
    assert change == pytest.approx(5.033, abs=0.001)
    assert found.neck is not None
    assert found.neck == pytest.approx(2 * layout.back.half_width(layout.heel.x_joint) * 0.00165 * change)
    flat = moisture_estimate(laid_out("redpoll", "board.rings=flat"), (maple,), rosewood)
    assert flat.neck == pytest.approx(found.neck * 0.00353 / 0.00165)
    assert flat.fretboard_quarter == found.fretboard_quarter


def test_fret_ends_by_hand() -> None:
    """Rosewood shrinks radially by 2.7 %: 1/(3000/2.7 - 20) = 0.000917 a percent, x 5.033 x the end's width, half a
    side. Flat-sawn, 5.8 %: 0.002012."""
    layout = laid_out("redpoll")
    width, found = 2 * layout.fretboard.half_width(layout.fretboard.x_end), dried(layout)
    assert found.verdict == "pass"
    assert found.measured is not None
    assert found.measured == pytest.approx(width * 5.033 / (3000 / 2.7 - 20) / 2, abs=2e-4)
    assert found.more["proud_quarter"] == found.measured
    assert found.more["proud_flat"] == pytest.approx(width * 5.033 / (3000 / 5.8 - 20) / 2, abs=2e-4)
    assert found.limit == 0.2
    assert found.worst_case is None  # another board is no worst case of this one
    assert "proud by 0.13 mm a side if quarter-sawn, 0.28 mm a side if flat-sawn: judged as quarter-sawn" in found.says
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
    """teak-like: 2.5 % either way is 0.00085 a percent, 0.12 mm a side."""
    own = ("fretboard.wood=rosewood", "woods.rosewood.shrinkage_radial=2.5", "woods.rosewood.shrinkage_tangential=2.5")
    found = dried(laid_out("redpoll", *own))
    assert found.more["proud_quarter"] == found.more["proud_flat"] == pytest.approx(0.1175, abs=0.003)
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


# --- what the file says of sawing and air ----------------------------------------------------------------------------
def test_a_flat_sawn_fretboard_is_judged_as_one() -> None:
    layout = laid_out("redpoll", "fretboard.rings=flat")
    found, width = dried(layout), 2 * layout.fretboard.half_width(layout.fretboard.x_end)
    assert found.measured == pytest.approx(width * 5.033 / (3000 / 5.8 - 20) / 2, abs=2e-4)
    assert found.verdict == "warn"
    assert "proud by 0.28 mm a side, flat-sawn as it is;" in found.says
    assert "quarter" not in found.says


def test_a_fretboard_stated_as_quarter_sawn_is_told_alone() -> None:
    stated, left_out = dried(laid_out("redpoll", "fretboard.rings=quarter")), dried(laid_out("redpoll"))
    assert (stated.measured, stated.more) == (left_out.measured, left_out.more)
    assert "flat" not in stated.says
    assert "for fretboard.rings is not stated" in left_out.says


def test_the_quarter_sawn_figure_never_stands_for_a_flat_sawn_board() -> None:
    """A flat-sawn board moves about twice as far."""
    known = ("fretboard.wood=bubinga", "woods.bubinga.shrinkage_radial=5.8", "fretboard.rings=flat")
    skipped = dried(laid_out("redpoll", *known))
    assert skipped.verdict == "skipped"
    assert skipped.says.startswith("woods.bubinga.shrinkage_tangential is not stated")
    wenge = dried(laid_out("redpoll", "fretboard.wood=wenge", "fretboard.rings=quarter"))
    assert wenge.measured == wenge.more["proud_flat"]
    assert "judged as flat-sawn, the only way of which this wood's movement is known" in wenge.says


def test_the_seasons_are_the_makers() -> None:
    """Table 4-2 at 70 °F: 5.4 % of moisture at 25 % of humidity, 14.4 % at 75 %."""
    own = ("seasons.dry={humidity=25, temperature=21.1}", "seasons.damp={humidity=75, temperature=21.1}")
    found, usual = dried(laid_out("redpoll", *own)), dried(laid_out("redpoll"))
    assert (found.more["moisture_dry"], found.more["moisture_damp"]) == pytest.approx((5.4, 14.4), abs=0.05)
    change = found.more["moisture_damp"] - found.more["moisture_dry"]
    assert found.measured == pytest.approx((usual.measured or 0.0) * change / 5.033, abs=2e-4)
    assert "75 % relative humidity at 21.1 °C to 25 % relative humidity at 21.1 °C: 14.4 to 5.4 %" in found.says
