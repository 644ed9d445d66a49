"""Drawings of the jigs: true to size, readable, every piece with its name and sizes, what is behind told apart."""

from __future__ import annotations

import cmath
import math
import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from jig_cases import BUSH, LEFT, chief, drafted, drawn, every, shadow
from sheet_cases import check_readable, ink, layout_of, left_edge, middle, overlapping, save

from neckmodel.lengths import with_unit
from neckmodel.sheets import Drawing
from neckmodel.sheets.jigs.faces import faces_of_side
from neckmodel.sheets.jigs.sides import View
from neckmodel.sheets.jigs.sizes import sizes_of
from neckmodel.sheets.marks.display import Circle, Text, Window
from neckmodel.sheets.marks.display import Path as Line
from neckmodel.sheets.marks.layers import DATUM, HIDDEN, JIG, SIZES
from neckmodel.sheets.marks.sketch import bounds
from neckmodel.sheets.pages.pages import foot_of, top_of
from neckmodel.writers.drawings.svg import svg_text

TRUE = 0.02  # mm, by which an outline on paper may stray from the piece's
SVG = "{http://www.w3.org/2000/svg}"


def ids(case: tuple[str, ...]) -> str:
    return "-".join(case)


def singles(case: tuple[str, ...]) -> dict[str, Drawing]:
    """Each piece's own drawing, by its name."""
    return {sheet.kind: sheet.pages[0] for sheet in drawn(*case) if sheet.formats == ("svg",)}


def texts_of(pages: tuple[Drawing, ...]) -> list[Text]:
    inner = {id(m.drawing): m.drawing for page in pages for m in page.marks if isinstance(m, Window)}
    return [text for page in (*pages, *inner.values()) for text in page.texts()]


@pytest.mark.parametrize("case", every(), ids=ids)
def test_every_page_is_readable_and_names_every_piece(case: tuple[str, ...]) -> None:
    for sheet in drawn(*case):
        for page in sheet.pages:
            check_readable(page)
            for mark in page.marks:
                if isinstance(mark, Window):
                    assert overlapping(mark.drawing.texts()) == [], page.title
    jig = drafted(*case)
    if jig is None:
        return
    for sheet in (one for one in drawn(*case) if one.paper):
        said = [text.says for text in texts_of(sheet.pages)]
        everything = " ".join(said)
        for piece in jig.draft.pieces:
            name = f"jig-{jig.kind}-{piece.name}"
            assert said.count(name) >= 2, name  # in the list and over its drawing
        for needed in ("55 C", "never the only guard", "local rules", "fit of", "This jig was measured and passes"):
            assert needed in everything, needed


@pytest.mark.parametrize("case", every(), ids=ids)
def test_no_page_of_drawings_is_nearly_empty(case: tuple[str, ...]) -> None:
    """After the first, which has the words, and but for those that show a window on a piece larger than the paper."""
    for sheet in (one for one in drawn(*case) if one.paper and one.paper != "long"):
        for page in sheet.pages[1:]:
            if any(isinstance(mark, Window) for mark in page.marks):
                continue
            foot = foot_of(page)
            low = min(y for mark in page.marks if (y := bounds([mark])[1]) > foot)
            assert (top_of(page) - low) / (top_of(page) - foot) > 0.4, page.title


def svg_lines(text: str, layer: str) -> list[shapely.LineString]:
    """The lines of one layer of an SVG file, mm, y upward; arcs as chords of a degree or so."""
    lines = []
    for group in ElementTree.fromstring(text).iter(f"{SVG}g"):
        if group.get("data-layer") != layer:
            continue
        for path in group.iter(f"{SVG}path"):
            lines.append(shapely.LineString(walked(path.get("d") or "")))
        for circle in group.iter(f"{SVG}circle"):
            x, y, r = (float(circle.get(key) or 0) for key in ("cx", "cy", "r"))
            lines.append(shapely.LineString(shapely.Point(x, -y).buffer(r, quad_segs=64).exterior.coords))
    return lines


def walked(data: str) -> list[tuple[float, float]]:
    """The points of a path of moves, lines, arcs (SVG 1.1, 8.3.8 and F.6.5) and a closing stroke."""
    points: list[tuple[float, float]] = []
    for letter, rest in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        numbers = [float(number) for number in rest.split()]
        if letter == "Z":
            points.append(points[0])
        elif letter in "ML":
            points.append((numbers[0], -numbers[1]))
        else:
            points += arc(points[-1], (numbers[5], -numbers[6]), numbers[0], bool(numbers[3]), bool(numbers[4]))
    return points


def arc(
    start: tuple[float, float], end: tuple[float, float], radius: float, large: bool, sweep: bool
) -> list[tuple[float, float]]:
    a, b = complex(*start), complex(*end)
    half = abs(b - a) / 2
    rise = math.sqrt(max(radius * radius - half * half, 0.0))
    # y is upward here, so a positive sweep turns clockwise
    centre = (a + b) / 2 + (b - a) / (2 * half) * 1j * rise * (1 if large == sweep else -1)
    first = cmath.phase(a - centre)
    turn = (cmath.phase(b - centre) - first) % (2 * math.pi)
    turn = turn - 2 * math.pi if sweep else turn
    return [(p.real, p.imag) for k in range(1, 65) for p in [centre + radius * cmath.exp(1j * (first + turn * k / 64))]]


def outer(lines: list[shapely.LineString], like: shapely.Polygon) -> shapely.Polygon:
    """The area within a page's lines that is as large as the piece, of the views that the page shows; moved onto it."""
    areas = shapely.polygonize([shapely.node(shapely.union_all(lines, grid_size=1e-4))])
    whole = shapely.union_all(list(areas.geoms), grid_size=1e-4)
    size = np.subtract(like.bounds[2:], like.bounds[:2])
    parts = list(getattr(whole, "geoms", [whole]))
    best = min(parts, key=lambda part: np.abs(np.subtract(part.bounds[2:], part.bounds[:2]) - size).max())
    by = np.subtract(like.bounds[:2], best.bounds[:2])
    return shapely.Polygon(np.array(best.exterior.coords) + by)


@pytest.mark.parametrize("case", every(), ids=ids)
def test_outlines_on_paper_are_those_of_the_piece(case: tuple[str, ...]) -> None:
    """The chief view's outer line, from the SVG file's own numbers, against what the triangles of a fine mesh cover."""
    jig = drafted(*case)
    for name, page in singles(case).items():
        assert jig is not None
        piece = next(p for p in jig.draft.pieces if name == f"jig-{jig.kind}-{p.name}")
        meant = shadow(jig.layout, piece, chief(jig, piece))
        found = outer(svg_lines(svg_text(page), JIG.name), meant)
        assert np.abs(np.subtract(found.bounds, meant.bounds)).max() < TRUE, name
        away = shapely.hausdorff_distance(found.exterior, meant.exterior, densify=0.002)
        assert away < TRUE, f"{name}: {away:.4f}"


def test_a_drawing_of_another_size_is_noticed() -> None:
    """The comparison above sees a thousandth: 0.17 mm of the guide's length."""
    jig = drafted("tuner-guide", "redpoll")
    assert jig is not None
    piece = jig.draft.pieces[0]
    page = singles(("tuner-guide", "redpoll"))["jig-tuner-guide-1"]
    meant = shadow(jig.layout, piece, chief(jig, piece))
    lines = [shapely.affinity.scale(line, 1.001, 1.0, origin=(0, 0)) for line in svg_lines(svg_text(page), JIG.name)]
    assert np.abs(np.subtract(outer(lines, meant).bounds, meant.bounds)).max() > 0.15


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("name", ["redpoll", "whimbrel"])
def test_sizes_on_the_printed_page_stand_where_they_say(name: str, tmp_path: Path) -> None:
    """Rasterised at 600 dpi: the ticks of the guide's first and last size are as far apart as the last one says."""
    page = singles(("tuner-guide", name))["jig-tuner-guide-1"]
    pdf = save((page,), tmp_path / "one.pdf")
    ticks = [m for m in page.marks if isinstance(m, Line) and m.layer in (SIZES, DATUM) and upright(m)]
    first, last = (min, max)[0](ticks, key=lambda m: m.points[0][0]), max(ticks, key=lambda m: m.points[0][0])
    foot = first.points[0][1]
    assert first.layer is DATUM
    box = (first.points[0][0] - 3.0, foot - 3.0, last.points[0][0] + 3.0, foot - 1.0)
    band = ink(pdf, 1, box, page.size[1]).sum(axis=0)
    found = [middle(band, m.points[0][0], left_edge(box[0])) for m in (first, last)]
    said = max(float(t.says.rsplit(": ", 1)[-1].split()[0]) for t in page.texts() if t.turn == 90.0)
    assert found[1] - found[0] == pytest.approx(said, abs=0.05)


def upright(mark: Line) -> bool:
    """Whether a leader belongs to a size along the paper: it starts upright."""
    return len(mark.points) == 3 and mark.points[0][0] == mark.points[1][0]


def said_of(case: tuple[str, ...], piece: str) -> set[str]:
    return {text.says for text in singles(case)[piece].texts()}


def test_a_template_says_the_sizes_that_follow_from_bush_and_cutter() -> None:
    """Its opening is wider than the step by the bush less the cutter (closed form); along, every place counts from the
    plate's end, so that two of them differ as the neck's stations do."""
    layout = layout_of("redpoll")
    step = next(s for s in layout.steps if s.name == "adjuster")
    cutter = next(c.diameter for c in layout.cuttings if c.step == "adjuster")
    bush = layout.design.workshop.guide_bush
    assert cutter is not None
    assert bush is not None
    said = said_of(("routing-template", "redpoll"), "jig-routing-template-adjuster")
    assert with_unit((step.width + bush - cutter) / 2, "mm") in said
    places = {
        s.rsplit(": ", 1)[0]: float(s.rsplit(": ", 1)[1].split()[0]) for s in said if re.search(r": [\d.]+ mm$", s)
    }
    windows = {name: at for name, at in places.items() if name.startswith("window")}
    assert len(windows) >= 1
    station = {"window, nut": 0.0, "window, adjuster starts": step.x_start, "window, adjuster ends": step.x_end}
    whole = next(s for s in said if s.startswith("template of the adjuster"))
    left = float(re.search(r"left end lies at x (-?[\d.]+) mm", " ".join([whole, *said]))[1])  # type: ignore[index]
    for name, at in windows.items():
        assert at == pytest.approx(station[name] - left, abs=0.011), name
    assert any("treble, up" in words for words in said)


def test_a_gauge_says_the_depth_that_the_design_states() -> None:
    """At fret 12 the design states the thickness with the fretboard: the back is deeper than the glue plane by what
    the fretboard leaves of it."""
    layout = layout_of("redpoll")
    stated = layout.design.neck.thickness.fret_12 - layout.fretboard.thickness
    said = said_of(("contour-gauge", "redpoll"), "jig-contour-gauge-fret-12")
    assert f"deepest line: {with_unit(stated, 'mm')}" in said
    assert "tips, glue plane: 0.00 mm" in said


def test_tuners_stand_in_the_guide_as_the_design_states() -> None:
    layout = layout_of("redpoll")
    said = said_of(("tuner-guide", "redpoll"), "jig-tuner-guide-1")
    at = {
        name: float(words.rsplit(": ", 1)[1].split()[0])
        for words in said
        if words.startswith("tuner ")
        for name in words.rsplit(": ", 1)[0].split(", ")
    }
    stated = [tuner.x for tuner in layout.design.head.tuners]
    assert [at[f"tuner {k}"] - at["tuner 1"] for k in range(1, len(stated) + 1)] == pytest.approx(
        [x - stated[0] for x in stated], abs=0.011
    )
    for tuner in layout.design.head.tuners:
        assert with_unit(abs(tuner.y), "mm") in said


def test_inches_and_the_other_hand_are_told() -> None:
    inches = said_of(("caul", "wren", BUSH), "jig-caul-1")
    assert any("of radius 13.400 in (13 13/32)" in words for words in inches)
    assert not any(re.search(r"\d mm\b", words) for words in inches if "between the end ticks" not in words)
    right, left = (said_of(("screw-guide", "redpoll", *over), "jig-screw-guide-heel") for over in ((), (LEFT,)))
    assert any("the bass side up" in words for words in right)
    assert any("the treble side up" in words for words in left)


def test_edges_in_front_and_behind_are_told_apart() -> None:
    """A plate 40 x 30 x 10 with a hole of 5 right through, a pocket 12 x 8 from below and a step 10 wide along it."""
    from neckmodel.jigs.shaping import box, cylinder
    from neckmodel.solids.kernel.gate import cut

    pocket, step = box((25, 37), (5, 13), (-1, 4)), box((-1, 41), (20, 31), (7, 11))
    solid = cut(box((0, 40), (0, 30), (0, 10)), [cylinder((10, 10, -1), 2.5, 12), pocket, step], "plate")
    seen = faces_of_side(solid, View((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
    circles = [mark for mark in seen.marks if isinstance(mark, Circle)]
    assert [(c.layer, c.at, c.radius) for c in circles] == [(JIG, pytest.approx((10, 10)), pytest.approx(2.5))]
    hidden = [mark for mark in seen.marks if isinstance(mark, Line) and mark.layer is HIDDEN]
    assert len(hidden) == 1
    xs, ys = zip(*hidden[0].points, strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx((25, 5, 37, 13))
    edges = [m.stretches() for m in seen.marks if isinstance(m, Line) and m.layer is JIG]
    inked = shapely.union_all([shapely.LineString([a, b]) for stretches in edges for a, b, _ in stretches])
    assert inked.length == pytest.approx(2 * (40 + 30) + 40)  # the rim, and the step's edge along it
    sizes = sizes_of(seen, (), chief=True)
    assert [(s.at, s.says) for s in sizes.below] == [
        (pytest.approx(0), ""),
        (pytest.approx(10), "hole"),
        (pytest.approx(31), "behind"),
        (pytest.approx(40), ""),
    ]
    assert [s.at for s in sizes.left] == pytest.approx([0, 9, 10, 20, 30])
    below = faces_of_side(solid, View((1.0, 0.0, 0.0), (0.0, -1.0, 0.0)))
    assert not any(mark.layer is HIDDEN for mark in below.marks if isinstance(mark, Line) and mark.closed)
