"""Stiffness, mass and movement of a neck of strips: worked out elsewhere, and by a library of sections."""

from __future__ import annotations

import numpy as np
import pytest
from strip_samples import ONE_SIDED, SISKIN, laid_out, strips

from neckmodel.layout import Layout
from neckmodel.strength import estimate
from neckmodel.strength.bending.blank import blank_sag
from neckmodel.strength.bending.calibration import as_one
from neckmodel.strength.materials.own import woods_of
from neckmodel.strength.moisture import moisture_estimate, widths_change
from neckmodel.strength.sections.neck import NeckSections, neck_sections
from neckmodel.strength.sections.strips import outlines_within

MAPLE, WALNUT, ROSEWOOD = 13_860.0, 12_760.0, 13_530.0  # MPa
ALL_MAPLE = strips((24.0, "sugar maple"), (3.0, "maple"), (11.0, "maple"), (3.0, "maple"), (24.0, "hard maple"))


def at_fret(fret: float, layout: Layout) -> tuple[NeckSections, float]:
    x = layout.frets.x(int(fret))
    return neck_sections(layout, x - 1e-4, x + 1e-4, 1), x


@pytest.mark.parametrize(
    ("fret", "neutral", "bending", "wood", "fretboard"),
    [
        (1, -3.020, 2.848e8, 302.8, 238.4),
        (7, -3.636, 3.762e8, 373.4, 261.5),
        (12, -4.003, 4.402e8, 419.4, 275.0),
    ],
)
def test_a_laminated_neck_as_worked_out(
    fret: int, neutral: float, bending: float, wood: float, fretboard: float
) -> None:
    """z_n in mm, EI in N mm2 with the fretboard whole, g/m of wood (706 and 616 kg/m3) and of rosewood (954), to the
    digit. Worked out by sections, without swells or shear."""
    sections, _ = at_fret(fret, laid_out())
    moduli = (MAPLE, WALNUT, MAPLE, WALNUT, MAPLE)
    found = sections.stiffness(moduli, ROSEWOOD)
    assert found.neutral[0] == pytest.approx(neutral, abs=5e-4)
    assert found.bending[0] == pytest.approx(bending, abs=5e4)
    densities = (706.0, 616.0, 706.0, 616.0, 706.0)
    mass = sum(m.area[0] * d for m, d in zip(sections.wood, densities, strict=True)) * 1e-3
    assert mass == pytest.approx(wood, abs=0.05)
    assert sections.board_whole.area[0] * 0.954 == pytest.approx(fretboard, abs=0.05)


def test_the_woods_of_the_table_are_those() -> None:
    woods = woods_of(laid_out().design)
    assert not hasattr(woods, "says")
    assert [wood.modulus for wood in woods[0]] == pytest.approx([MAPLE, WALNUT, MAPLE, WALNUT, MAPLE])


@pytest.mark.parametrize("stated", [SISKIN, ONE_SIDED])
@pytest.mark.parametrize("x", [12.0, 150.0, 320.0])
def test_strips_against_a_library_of_sections(stated: str, x: float) -> None:
    """sectionproperties (finite-element cross-section library) on the same strips as polygons: EA and EI within 0.1 %,
    z_n within 0.005 mm. It takes the axes through the centroid: EI about the level one, as bending in the upright plane
    alone has it, the coupling of unlike sides left out on both routes."""
    from sectionproperties.analysis import Section as Analysed
    from sectionproperties.pre import Geometry, Material
    from shapely import Polygon, box

    layout = laid_out() if stated == SISKIN else laid_out(stated)
    moduli = [17_000.0, 9_000.0, 13_000.0, 11_000.0, 15_000.0][: len(layout.strips)]

    def material(name: str, modulus: float) -> Material:
        return Material(name, modulus, 0.3, 100, 1e-9, "grey")

    back = Polygon(layout.back.section(x).points(1001))
    for step in layout.steps:
        if step.x_start < x < step.x_end:
            back = back.difference(box(-step.width / 2, -step.depth_at(x), step.width / 2, 1.0))
    y = np.linspace(-layout.fretboard.half_width(x), layout.fretboard.half_width(x), 401)
    top = [(float(v), layout.fretboard.top(x, float(v))) for v in y]
    whole = Geometry(Polygon([(float(y[0]), 0.0), (float(y[-1]), 0.0), *reversed(top)]), material("board", ROSEWOOD))
    edge = -layout.design.board.width / 2 if layout.design.board else 0.0
    for k, (strip, modulus) in enumerate(zip(layout.strips, moduli, strict=True)):
        piece = back.intersection(box(edge, -60.0, edge + strip.width, 1.0))
        edge += strip.width
        for part in getattr(piece, "geoms", [piece]):
            if part.area > 1e-9:
                whole += Geometry(part, material(f"strip {k}", modulus))
    whole.create_mesh(mesh_sizes=[20.0])
    analysed = Analysed(whole)
    analysed.calculate_geometric_properties()
    found = neck_sections(layout, x - 1e-4, x + 1e-4, 1).stiffness(moduli, ROSEWOOD)
    assert found.axial[0] == pytest.approx(analysed.get_ea(), rel=1e-3)
    assert found.neutral[0] == pytest.approx(analysed.get_c()[1], abs=5e-3)
    assert found.bending[0] == pytest.approx(analysed.get_eic()[0], rel=1e-3)


def test_strips_of_one_wood_are_one_wood() -> None:
    """Wherever the seams lie, also through the heel's swell: the parts are together the whole, and so is the estimate.
    Within 1e-4, for the outline of one wood is taken at 361 points and that of strips at 2401."""
    one, many = laid_out(ALL_MAPLE), neck_sections(laid_out(ALL_MAPLE), 0.0, laid_out().heel.x_joint)
    whole = neck_sections(laid_out(text=IN_ONE), 0.0, laid_out().heel.x_joint)
    for name in ("area", "first", "second"):
        total = np.sum([getattr(strip, name) for strip in many.wood], axis=0)
        np.testing.assert_allclose(total, getattr(whole.wood[0], name), rtol=1e-4)
    apart, plain = estimate(one), estimate(laid_out(text=IN_ONE))
    assert apart.relief.likely == pytest.approx(plain.relief.likely, rel=2e-4)
    assert apart.relief_years.high == pytest.approx(plain.relief_years.high, rel=2e-4)
    assert apart.weakest.spare == pytest.approx(plain.weakest.spare, rel=2e-4)
    sags = blank_sag(one), blank_sag(laid_out(text=IN_ONE))
    assert sags[0] is not None
    assert sags[1] is not None
    assert sags[0].sag == pytest.approx(sags[1].sag)


IN_ONE = SISKIN[: SISKIN.index("strips = [")] + "width = 65.0\n[woods.unused]\ndensity = 500.0\n"


def test_an_outline_is_cut_where_the_seam_crosses_it() -> None:
    """The half disc y**2 + z**2 <= 20**2, below z = 0, between y 5 and 12: its area is a difference of
    `(y sqrt(r**2 - y**2) + r**2 asin(y/r))/2`, here to what 361 points leave."""
    turns = np.linspace(0.0, np.pi, 361)
    disc = np.stack([-20 * np.cos(turns), -20 * np.sin(turns)], axis=-1)[None]
    piece = outlines_within(disc, 5.0, 12.0)[0]
    y, z = piece[:, 0], piece[:, 1]
    area = abs(np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z)) / 2

    def half(at: float) -> float:
        return float((at * np.sqrt(400 - at**2) + 400 * np.arcsin(at / 20)) / 2)

    assert area == pytest.approx(half(12.0) - half(5.0), rel=1e-4)


def test_the_boards_width_moves_by_the_sum_of_its_strips() -> None:
    """59 of maple at 0.00165 a percent and 6 of walnut at 0.00190, 3 percent drier: -0.326."""
    woods = woods_of(laid_out().design)
    moved = widths_change([24.0, 3.0, 11.0, 3.0, 24.0], woods[0], "quarter", -3.0)
    assert moved == pytest.approx(-0.326, abs=5e-4)
    found = moisture_estimate(laid_out(), *woods)
    change = found.moisture[1] - found.moisture[0]
    assert found.board == pytest.approx((59 * 0.00165 + 6 * 0.0019) * change)
    half = laid_out().back.half_width(laid_out().heel.x_joint)
    assert found.neck == pytest.approx(((2 * half - 6) * 0.00165 + 6 * 0.0019) * change)


def test_a_wood_of_unknown_movement_leaves_the_width_untold() -> None:
    layout = laid_out(strips((30.0, "maple"), (5.0, "bubinga"), (30.0, "maple")))
    found = moisture_estimate(layout, *woods_of(layout.design))
    assert (found.board, found.neck) == (None, None)


def test_a_stiff_strip_takes_its_share_of_the_stress() -> None:
    """Stress is the strip's own modulus times the strain: at the same height walnut bears 12760/13860 of maple's."""
    said = estimate(laid_out()).weakest.where
    assert "in strip" in said
    assert "sugar maple" in said or "walnut" in said


def test_the_rod_dents_the_weaker_wood_that_it_lies_on() -> None:
    """The middle strip is 11 wide and the rod 6: maple alone. In a strip 3 wide between walnut the rod lies on both,
    and walnut bears less across the grain, 7.0 against 10.1 MPa (Wood Handbook, table 5-3a)."""
    assert estimate(laid_out()).neck.across == 10.1
    narrow = strips((31.0, "walnut"), (3.0, "maple"), (31.0, "walnut"))
    assert estimate(laid_out(narrow)).neck.across == 7.0


def test_the_basis_says_what_is_neglected() -> None:
    assert "bend the neck sideways is neglected" in estimate(laid_out()).basis
    assert "sideways" not in estimate(laid_out(text=IN_ONE)).basis


def test_a_boards_sag_scales_all_its_strips() -> None:
    """The strips keep their proportion, and together have the modulus that was found on the board."""
    weighed = ("calibration.weight=50", "calibration.span=600", "calibration.sag=0.18")
    found = estimate(laid_out(*weighed))
    assert found.measured == "the sag of the board under a weight"
    from neckmodel.strength.bending.bending import bending_of
    from neckmodel.strength.bending.calibration import corners_of
    from neckmodel.strength.strings.load import load_of
    from neckmodel.strength.strings.pull import pull_of

    layout = laid_out(*weighed)
    neck, board = woods_of(layout.design)
    load = load_of(layout, pull_of(layout.design.strings))
    likely = corners_of(layout, bending_of(layout, load, None), neck, board).whole.neck
    assert likely[1] / likely[0] == pytest.approx(WALNUT / MAPLE)
    # F L**3/(48 I sag), I = 65 x 24**3/12 = 74880 mm4; shear adds some 3 %
    plain = 50 * 600**3 / (48 * 65 * 24**3 / 12 * 0.18)
    assert 1.0 < as_one([24, 3, 11, 3, 24], likely) / plain < 1.05


def test_a_strip_outside_the_carved_neck_bears_nothing() -> None:
    """Strips 1 and 3 begin 30 mm from the centre line: the saw takes them. The neck bends as one of maple alone."""
    outside = estimate(laid_out(strips((2.0, "walnut"), (60.0, "sugar maple"), (2.0, "walnut"))))
    alone = estimate(laid_out(strips((32.0, "sugar maple"), (32.0, "sugar maple"))))
    assert outside.relief is not None
    assert alone.relief is not None
    assert outside.relief.likely == pytest.approx(alone.relief.likely, rel=1e-9)
