"""Outlines read from drawings: units, layers, curves and sides, and the head that is built along them."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from ends_samples import (
    HALF_FAR,
    HALF_NEAR,
    LENGTH,
    ROUND,
    TAPER,
    arc,
    circle,
    design,
    dxf,
    line,
    plain_head,
    polyline,
    svg,
    with_drawing,
)
from ends_solids import assert_sound, box, share
from shapely.geometry import Point, Polygon

from neckmodel.checks import check
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.drawings.drawing import first_closed, read_drawing
from neckmodel.layout.json.layout import layout_json
from neckmodel.solids import build

SIDES = [(5, 24), (-60, 26), (-120, 70), (-175, 30), (-180, 5), (-150, -35), (-20, -24), (5, -23)]
FAR = (-300.0, 300.0)


def laid_out(folder: Path, drawing: str, name: str = "head.dxf", *sets: str) -> Layout:
    return lay_out(with_drawing(folder, drawing, name, sets=sets))


def d(points: list[tuple[float, ...]]) -> str:
    """A path's data through the points, y turned over as SVG counts it."""
    return "M" + " L".join(f"{x!r} {-y!r}" for x, y, *_ in points) + " Z"


def beyond(points: list[tuple[float, ...]], x: float) -> float:
    """Area of the polygon on the head side of x, mm2, by shapely."""
    return float(Polygon(points).intersection(Polygon([(x, -500), (x, 500), (-900, 500), (-900, -500)])).area)


def test_the_drawn_head_is_followed_and_its_arcs_stay_arcs(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, dxf(polyline(plain_head())))
    assert layout.head.length == pytest.approx(LENGTH)
    # the head line is at -6: the drawing's x -24 is where the swell ends
    assert layout.head.near / 2 == pytest.approx(HALF_NEAR + TAPER * 24)
    parts = build(layout)
    assert_sound(parts)
    radii = [
        face._geomAdaptor().Cylinder().Radius()
        for face in parts["neck"].solid.Faces()
        if face.geomType() == "CYLINDER" and face.Center().x < -140
    ]
    assert sorted(radii) == pytest.approx([ROUND, ROUND], abs=1e-9)
    # two trapezoid halves less the corners: r (r tan(turn/2)) - r r turn/2 each
    turn = math.pi / 2 + math.atan(TAPER)
    corners = 2 * ROUND**2 * (math.tan(turn / 2) - turn / 2)
    area = (HALF_NEAR + TAPER * 24 + HALF_FAR) * (LENGTH - 24) - corners
    assert share(parts.carved, box((-400, -30), FAR, FAR)) == pytest.approx(14 * area, rel=1e-7)
    assert layout.head.contour is not None
    assert layout.head.contour.area == pytest.approx(area, rel=1e-9)
    assert check(parts).passed


@pytest.mark.parametrize(("unit", "size"), [(1, 25.4), (4, 1.0), (5, 10.0), (13, 0.001)])
def test_a_dxf_counts_in_its_own_unit(unit: int, size: float, tmp_path: Path) -> None:
    """$INSUNITS 1 inches, 4 mm, 5 cm, 13 micrometres: DXF reference, header variables."""
    corners = laid_out(tmp_path, dxf(polyline(plain_head(size)), unit)).head.contour.corners  # type: ignore[union-attr]
    expected = laid_out(tmp_path, dxf(polyline(plain_head()))).head.contour.corners  # type: ignore[union-attr]
    assert np.array(corners) == pytest.approx(np.array(expected), abs=1e-6)


@pytest.mark.parametrize(
    ("size", "unit"),
    [
        ('width="400mm" height="200mm" viewBox="-200 -100 400 200"', 1.0),
        ('width="40cm" height="20cm" viewBox="0 0 4000 2000"', 0.1),
        ('width="10in" height="5in" viewBox="0 0 10 5"', 25.4),
        ("", 25.4 / 96),
        ('width="800" height="400"', 25.4 / 96),
        ('width="720pt" height="720pt" viewBox="0 0 254 254"', 1.0),
        ('width="400mm" height="100mm" viewBox="0 0 400 200"', 0.5),
    ],
)
def test_an_svg_counts_in_its_own_unit(size: str, unit: float, tmp_path: Path) -> None:
    """96 px or 72 pt to the inch (CSS Values and Units 3, section 6.2); of two scales the smaller (SVG: meet)."""
    points = [(x / unit, y / unit) for x, y in SIDES]
    layout = laid_out(tmp_path, svg(f'<path d="{d(points)}"/>', size), "head.svg")
    expected = laid_out(tmp_path, dxf(polyline(SIDES)))
    assert layout.head.length == pytest.approx(180)
    assert np.array(layout.head.contour.corners) == pytest.approx(  # type: ignore[union-attr]
        np.array(expected.head.contour.corners),  # type: ignore[union-attr]
        abs=1e-5,
    )


def test_every_way_to_draw_the_same_outline(tmp_path: Path) -> None:
    """One polyline either way round, loose lines in any order, an SVG polygon, a transformed group."""
    square = [(5.0, 25.0), (-150.0, 25.0), (-150.0, -25.0), (5.0, -25.0)]
    pairs = list(zip(square, [*square[1:], square[0]], strict=True))
    loose = "".join(line(*(pairs[k] if k % 2 else pairs[k][::-1])) for k in (2, 0, 3, 1))
    polygon = " ".join(f"{x},{-y}" for x, y in square)
    moved = " ".join(f"{y - 7},{x + 3}" for x, y in square)  # turned a quarter and moved, undone by the transform
    drawings = {
        "one.dxf": dxf(polyline(square)),
        "two.dxf": dxf(polyline(square[::-1])),
        "three.dxf": dxf(polyline(square[2:] + square[:2])),
        "loose.dxf": dxf(loose),
        "mixed.dxf": dxf(polyline([(0, 0), (9, 0), (9, 9)], "other") + circle((50, 50), 9, "other") + loose),
        "polygon.svg": svg(f'<polygon points="{polygon}"/>'),
        "rect.svg": svg('<rect x="-150" y="-25" width="155" height="50"/>'),
        "moved.svg": svg(f'<g transform="rotate(-90)"><polygon transform="translate(7 -3)" points="{moved}"/></g>'),
        "lines.svg": svg("".join(f'<line x1="{a[0]}" y1="{a[1]}" x2="{b[0]}" y2="{b[1]}"/>' for a, b in pairs)),
    }
    for name, drawing in drawings.items():
        contour = laid_out(tmp_path, drawing, name).head.contour
        assert contour is not None
        corners = np.array([c[:2] for c in contour.corners])
        assert corners == pytest.approx(np.array([(-30, 25), (-156, 25), (-156, -25), (-30, -25)]), abs=1e-5), name


def test_the_first_closed_contour_on_the_layer_counts(tmp_path: Path) -> None:
    """Others, and open lines before it, do not; without a layer the first of all."""
    (tmp_path / "two.dxf").write_text(
        dxf(line((0, 0), (9, 9)) + polyline(SIDES, "other") + polyline(plain_head()) + circle((0, 0), 50))
    )
    drawing = read_drawing(tmp_path / "two.dxf")
    assert first_closed(drawing, "outline").x_range[0] == pytest.approx(-160)
    assert first_closed(drawing, None).x_range[0] == pytest.approx(-180)
    assert drawing.layers == ("other", "outline")


def test_treble_is_up_in_a_dxf_and_on_the_right_hand_in_an_svg(tmp_path: Path) -> None:
    """Seen from the front, head to the left: +y is up. The wide side of SIDES is the treble side in both."""
    for name, drawing in (("a.dxf", dxf(polyline(SIDES))), ("a.svg", svg(f'<path d="{d(SIDES)}"/>'))):
        head = laid_out(tmp_path, drawing, name).head
        assert (head.reach(1), head.reach(-1)) == pytest.approx((70, 35))


def test_curves_are_followed_within_a_hundredth(tmp_path: Path) -> None:
    """An ellipse, cubic and quadratic curves and arcs of a circle, each against its own equation."""
    found = {}
    parts = {
        "ellipse": '<ellipse cx="-60" cy="0" rx="100" ry="40"/>',
        "cubic": '<path d="M40 0 C40 80 -160 80 -160 0 C-160 -80 40 -80 40 0 Z"/>',
        "quadratic": '<path d="M40 0 Q-60 110 -160 0 Q-60 -110 40 0 Z"/>',
        "circle": '<circle cx="-60" cy="0" r="90"/>',
        "arcs": '<path d="M30 0 A90 90 0 0 0 -150 0 A90 90 0 0 0 30 0 Z"/>',
    }
    for name, body in parts.items():
        (tmp_path / f"{name}.svg").write_text(svg(body))
        found[name] = first_closed(read_drawing(tmp_path / f"{name}.svg"), "outline")
    t = np.linspace(0, 1, 20001)[:, None]
    ellipse = np.column_stack([-60 + 100 * np.cos(2 * np.pi * t), 40 * np.sin(2 * np.pi * t)])
    p = np.array([[40, 0], [40, 80], [-160, 80], [-160, 0]])
    cubic = (1 - t) ** 3 * p[0] + 3 * t * (1 - t) ** 2 * p[1] + 3 * t * t * (1 - t) * p[2] + t**3 * p[3]
    q = np.array([[40, 0], [-60, 110], [-160, 0]])
    quadratic = (1 - t) ** 2 * q[0] + 2 * t * (1 - t) * q[1] + t * t * q[2]
    for name, curve in (("ellipse", ellipse), ("cubic", cubic), ("quadratic", quadratic)):
        polygon = Polygon(found[name].points)
        half = curve[curve[:, 1] >= 0]
        assert max(polygon.exterior.distance(Point(v)) for v in half[::10]) <= 0.01
    for name in ("circle", "arcs"):
        assert found[name].area == pytest.approx(math.pi * 90**2, rel=1e-9)
        assert np.hypot(found[name].points[:, 0] + 60, found[name].points[:, 1]) == pytest.approx(
            np.full(len(found[name].points), 90.0), abs=1e-6
        )
        assert len(found[name].corners) <= 8
    assert found["ellipse"].area == pytest.approx(math.pi * 100 * 40, rel=3e-4)  # chords lie inside, up to 0.01


def test_arcs_of_a_dxf(tmp_path: Path) -> None:
    """A stadium of two half circles and two lines; the same drawn on the back of the plane."""
    stadium = (
        arc((-130, 0), 30, 90, 270) + line((-130, -30), (0, -30)) + arc((0, 0), 30, 270, 90) + line((0, 30), (-130, 30))
    )
    (tmp_path / "s.dxf").write_text(dxf(stadium))
    contour = first_closed(read_drawing(tmp_path / "s.dxf"), "outline")
    assert contour.area == pytest.approx(math.pi * 900 + 130 * 60, rel=1e-12)
    assert contour.x_range == pytest.approx((-160, 30), abs=0.01)
    back = polyline([(130.0, 30.0, -1.0), (130.0, -30.0), (0.0, -30.0, -1.0), (0.0, 30.0)]).replace(
        "100\nAcDbPolyline\n", "100\nAcDbPolyline\n210\n0.0\n220\n0.0\n230\n-1.0\n"
    )
    (tmp_path / "b.dxf").write_text(dxf(back))
    turned = first_closed(read_drawing(tmp_path / "b.dxf"), "outline")
    assert turned.x_range == pytest.approx((-160, 30), abs=0.01)
    assert turned.area == pytest.approx(contour.area, rel=1e-12)


def test_unequal_sides_are_joined_by_a_cove(tmp_path: Path) -> None:
    """The narrower side sets the width where the head begins; the wider is reached within 20 mm by touching arcs."""
    layout = laid_out(tmp_path, dxf(polyline(SIDES)))
    contour = layout.head.contour
    assert contour is not None
    near = 24 + (35 - 24) * (24 - 20) / (150 - 20)  # the bass side 24 mm before the head line
    wide = 24 + (26 - 24) * (24 + 5) / 65
    assert layout.head.near / 2 == pytest.approx(min(near, wide))
    first, middle, own = contour.corners[:3]
    assert first[:2] == pytest.approx((-30, near))
    assert own[:2] == pytest.approx((-50, 24 + 2 * (44 + 5) / 65))
    assert middle[:2] == pytest.approx((-40, (first[1] + own[1]) / 2))
    # both arcs turn by the same angle, against each other, and start along the centre line
    assert first[2] == pytest.approx(-middle[2])
    assert 2 * math.atan(middle[2]) == pytest.approx(math.atan2(own[1] - first[1], 20))
    parts = build(layout)
    assert_sound(parts)
    area = beyond([(x - 6, y) for x, y in SIDES], -50) + contour_area_between(contour.points, -50, -30)
    assert share(parts.carved, box((-400, -30), FAR, FAR)) == pytest.approx(14 * area, rel=1e-5)


def contour_area_between(points: np.ndarray, low: float, high: float) -> float:
    strip = Polygon([(low, -500), (high, -500), (high, 500), (low, 500)])
    return float(Polygon(points).intersection(strip).area)


def test_an_angled_head_keeps_its_length_along_the_face(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, dxf(polyline(plain_head())), "head.dxf", "head.kind=angled", "head.angle=14")
    turn = math.radians(14)
    assert layout.head.length == pytest.approx(LENGTH, abs=1e-9)
    assert layout.head.x_far == pytest.approx(-6 - LENGTH * math.cos(turn))
    assert layout.head.near / 2 == pytest.approx(HALF_NEAR + TAPER * 24 / math.cos(turn))
    assert_sound(build(layout))


def test_the_drawing_is_told_in_the_layout(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, dxf(polyline(plain_head())))
    outline = layout_json(layout)["head"]["outline"]
    assert len(outline) == 6
    assert all(isinstance(v, float) for corner in outline for v in corner)


@pytest.mark.parametrize("shift", [0.0, 1e-7, 1e-4, 0.005, 0.02, 0.3])
def test_corners_near_the_end_of_the_swell_do_no_harm(shift: float, tmp_path: Path) -> None:
    """A corner on the line where the skin ends, or a hair off it, is where kernels fail."""
    points = [
        (5.0, 24.0),
        (-24.0 + shift, 25.0),
        (-24.0 - shift, 27.0 + shift),
        (-150, 33),
        (-150, -33),
        (-24.0, -25.0),
        (5, -24),
    ]
    parts = build(laid_out(tmp_path, dxf(polyline(points))))
    assert_sound(parts)
    area = beyond([(x - 6, y) for x, y in points], -50)
    # a corner within a hundredth of the line is moved onto it
    assert share(parts.carved, box((-400, -50), FAR, FAR)) == pytest.approx(14 * area, rel=5e-6)


@pytest.mark.parametrize(
    ("x", "y", "refused"),
    [(-100.0, 26.0, True), (-100.0, 25.9, False), (-100.0, 27.0, False), (-166.0, 0.0, True), (-165.9, 0.0, False)],
)
def test_a_tuners_hole_that_just_touches_the_outline_is_refused(x: float, y: float, refused: bool) -> None:
    """A hole of 8 on a head 60 wide and 170 long: it touches a side at 26, the end at 166."""
    tuner = f"[{{x = {x}, y = {y}, hole = 8.0, housing = {{length = 20, width = 15}}}}]"
    made = design(f"[head]\nlength = 170\noutline = {{near = 60.0, far = 60.0}}\ntuners = {tuner}\n")
    if not refused:
        assert len(lay_out(made).tuners) == 1
        return
    with pytest.raises(DesignError, match="just touches the head's outline") as caught:
        lay_out(made)
    assert caught.value.problems[0].key == "head.tuners[0]"
