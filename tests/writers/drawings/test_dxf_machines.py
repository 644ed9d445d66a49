"""DXF as a machine takes it, re-read by ezdxf and asked by shapely: a closed line a step, none upon another, no layer
of the library's, words within the part's reach, and the table of depths beside it."""

from __future__ import annotations

import json
from itertools import combinations, pairwise
from pathlib import Path

import ezdxf.bbox
import pytest
import shapely
from designs import Tables, design_of, designs
from ezdxf.filemanagement import readfile
from ezdxf.path import make_path
from hypothesis import given, reject, settings
from sheet_cases import INCHES, NAMES, ROUTED, layout_of

from neckmodel.errors import DesignError, ExportError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.step import Step, plain
from neckmodel.layout.json.layout import layout_json
from neckmodel.sheets import draw, draw_all
from neckmodel.sheets.marks.layers import of_step
from neckmodel.sheets.views.pockets import step_lines
from neckmodel.writers.drawings.depths import TableWriter
from neckmodel.writers.drawings.dxf import dxf_bytes
from neckmodel.writers.drawings.pages import DrawnJob
from neckmodel.writers.folders.sheets import planned, write_sheets

MACHINE = ("pockets", "templates", "fretboard", "head")
LEFT = 'design.hand="left"'
CASES = (*((name,) for name in NAMES), ("redpoll", LEFT), (INCHES, LEFT), ("garganey", LEFT), ("wheatear", LEFT))
NOT_CUT = {"blank", "centre line", "datum", "notes", "glue seams"}
TOUCH = 1e-6  # mm that two lines may have in common


def machine(case: tuple[str, ...]) -> tuple[str, ...]:
    """The kinds that apply: without a rod there is no channel."""
    if case[0] == "godwit":  # it has no head
        return MACHINE[:-1]
    return MACHINE if case[0] in ROUTED else ("fretboard", "head")


cases = pytest.mark.parametrize("case", CASES, ids=lambda case: "-".join(case)[:16])


def file_of(kind: str, case: tuple[str, ...], folder: Path, unit: str = "mm") -> Path:
    path = folder / f"{kind}.dxf"
    path.write_bytes(dxf_bytes(draw(kind, layout_of(*case))[0].pages[0], unit))
    return path


def region(step: Step) -> shapely.Polygon:
    """A step's own rectangle; its rounded corners only take away."""
    return shapely.box(step.x_start, step.y - step.width / 2, step.x_end, step.y + step.width / 2)


def deeper(step: Step, other: Step) -> bool:
    """Where both are cut, the other nowhere less deep."""
    low, high = max(step.x_start, other.x_start), min(step.x_end, other.x_end)
    ends = (low, high) if low <= high else ((low + high) / 2,) * 2
    return other.y == step.y and all(
        other.depth_at(min(max(x, other.x_start), other.x_end))
        >= step.depth_at(min(max(x, step.x_start), step.x_end)) - 1e-6
        for x in ends
    )


def check_lines(layout: Layout, lines: dict[str, shapely.Polygon]) -> None:
    """Every line leaves nothing of its step that is not cut deeper anyway, and takes nothing else. No two share an
    edge."""
    routed = [step.from_face for step in layout.steps if not step.bored]
    for step in routed:
        line, own = lines[step.name], region(step)
        assert line.is_valid, step.name
        under = [region(other) for other in routed if other is not step and deeper(step, other)]
        others = shapely.union_all(under)
        corners = 2 * sum(min(r, step.width / 2) ** 2 for r in (step.corner_start, step.corner_end))
        assert own.difference(shapely.union(line, others)).area <= corners + 1e-6, step.name
        # a deeper step is no shallower only where it lies: what runs on stays within it
        assert line.difference(shapely.union(own, others.buffer(1e-9))).area <= 1e-6, step.name
    for (one, a), (other, b) in combinations(lines.items(), 2):
        common = shapely.intersection(a.exterior, b.exterior)
        assert common.length <= TOUCH, f"{one} and {other} share {common.length:.3f} mm"


@pytest.mark.parametrize("case", [case for case in CASES if case[0] in ROUTED], ids=lambda case: "-".join(case)[:16])
def test_one_closed_line_a_step_and_none_upon_another(case: tuple[str, ...], tmp_path: Path) -> None:
    layout, side = layout_of(*case), -1 if LEFT in case else 1
    space = readfile(file_of("pockets", case, tmp_path)).modelspace()
    side = side if layout.back_strip is None else -side  # seen from the back
    routed = [step for step in layout.steps if not step.bored]
    lines = {}
    for step in routed:
        (entity,) = space.query(f'*[layer=="{plain(step.name)}"]')
        assert (entity.dxftype(), entity.closed) == ("LWPOLYLINE", True)
        lines[step.name] = shapely.Polygon([(p.x, side * p.y) for p in make_path(entity).flattening(1e-4)])
    check_lines(layout, lines)


def test_where_the_adjuster_meets_the_run() -> None:
    """redpoll's adjuster (7.8 wide, 8.2 deep) ends at 17 in the run (6.1 wide, 9.3 deep): it runs on between the run's
    sides; the run, which is deeper, keeps its own four corners. The slot, 5.53 wide, runs on into the adjuster."""
    layout = layout_of("redpoll")
    lines = {line.step.name: line for line in step_lines(layout.steps, {s.name: of_step(s.name) for s in layout.steps})}
    run, adjuster, slot = (lines[name] for name in ("run", "adjuster", "access-slot"))
    assert sorted(run.path.points) == [(17.0, -3.05), (17.0, 3.05), (428.0, -3.05), (428.0, 3.05)]
    assert (adjuster.x_start, round(adjuster.x_end, 2)) == (6.0, 19.79)
    beyond = [(x, y) for x, y in adjuster.path.points if x > 17.0 + 1e-9]
    assert all(abs(y) < 3.05 for _, y in beyond)
    assert (17.0, 3.05) in adjuster.path.points
    assert (slot.x_start, round(slot.x_end, 2)) == (-6.0, 8.58)


@settings(max_examples=40, deadline=None)
@given(designs())
def test_lines_of_random_channels(tables: Tables) -> None:
    try:
        layout = lay_out(design_of(tables))
    except DesignError:
        reject()
    lines = step_lines(layout.steps, {step.name: of_step(step.name) for step in layout.steps})
    check_lines(layout, {line.step.name: polygon(line.path.stretches()) for line in lines})


def polygon(stretches: object) -> shapely.Polygon:
    from neckmodel.sheets.marks.chords import chord_points
    from neckmodel.sheets.marks.display import Path as Line

    points = list(stretches)  # type: ignore[call-overload]
    line = Line(of_step("any"), tuple(p for p, _, _ in points), tuple(b for _, _, b in points), closed=True)
    return shapely.Polygon(chord_points(line))


@cases
@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_words_stay_within_the_part_and_off_its_lines(case: tuple[str, ...], unit: str, tmp_path: Path) -> None:
    """Measured by the library's own letters, which are not ours."""
    for kind in machine(case):
        space = readfile(file_of(kind, case, tmp_path, unit)).modelspace()
        words = list(space.query("TEXT"))
        assert words, kind
        assert {text.dxf.layer for text in words} == {"notes"}
        assert not [entity for entity in space if entity.dxf.layer == "notes" and entity.dxftype() != "TEXT"]
        whole = ezdxf.bbox.extents(space)
        part = ezdxf.bbox.extents(entity for entity in space if entity.dxftype() != "TEXT")
        for corner in ("extmin", "extmax"):
            assert getattr(whole, corner).isclose(getattr(part, corner), abs_tol=1e-9), kind
        strokes = [
            shapely.LineString([(a.x, a.y), (b.x, b.y)])
            for entity in space
            if entity.dxftype() != "TEXT"
            for a, b in pairwise(list(make_path(entity).flattening(0.01)))
        ]
        tree = shapely.STRtree(strokes)
        for text in words:
            box = ezdxf.bbox.extents([text])
            there = shapely.box(box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y)
            assert tree.query(there, predicate="intersects").size == 0, text.dxf.text


def raw_layers(text: str) -> list[tuple[str, int]]:
    """(name, colour number) of every layer in the file itself: a library that reads it adds its own."""
    lines = [line.strip() for line in text.splitlines()]
    pairs = list(zip(lines[::2], lines[1::2], strict=True))
    found, inside = [], False
    for k, (code, value) in enumerate(pairs):
        if code == "0":
            inside = value == "LAYER"
            if inside:
                rest = dict(pairs[k + 1 : k + 12][::-1])
                found.append((rest["2"], int(rest["62"])))
    return found


@cases
def test_layers_are_the_drawings_own_and_told_apart(case: tuple[str, ...], tmp_path: Path) -> None:
    """Layer 0 is the format's: the DXF reference asks for it."""
    for kind in machine(case):
        page = draw(kind, layout_of(*case))[0].pages[0]
        layers = raw_layers(file_of(kind, case, tmp_path).read_text(encoding="utf-8"))
        own = [(name, colour) for name, colour in layers if name != "0"]
        assert [name for name, _ in own] == [layer.name for layer in page.layers()]
        assert len({colour for _, colour in own}) == len(own), kind


@cases
def test_the_table_beside_it_is_complete_and_equal_to_the_layout(case: tuple[str, ...], tmp_path: Path) -> None:
    layout, kinds = layout_of(*case), machine(case)
    job = DrawnJob(layout.name, draw_all(layout, None, (), kinds), "inch")
    write_sheets(job, tmp_path)
    names = {path.name for path in tmp_path.iterdir()}
    assert names == {f"{layout.name}-{kind}.{end}" for kind in kinds for end in ("dxf", "json")}
    for kind in kinds:
        data = json.loads((tmp_path / f"{layout.name}-{kind}.json").read_text(encoding="utf-8"))
        assert (data["schema"], data["kind"], data["unit"]) == ("neckmodel/contours/1", kind, "mm")
        assert data["verdict"] == "NOT CHECKED"
        assert data["drawing"]["file"] == f"{layout.name}-{kind}.dxf"
        assert data["drawing"]["unit"] == "inch"
        space = readfile(tmp_path / data["drawing"]["file"]).modelspace()
        drawn = {entity.dxf.layer for entity in space}
        assert {cut["layer"] for cut in data["cuts"]} == drawn - NOT_CUT
    if layout.steps:
        pockets = json.loads((tmp_path / f"{layout.name}-pockets.json").read_text(encoding="utf-8"))["cuts"]
        told = [one for one in layout_json(layout)["channel"] if one["step"] != "key-bore"]
        assert [{key: cut[key] for key in told[0]} for cut in pockets] == told
        space = readfile(tmp_path / f"{layout.name}-pockets.dxf").modelspace()
        for cut in pockets:  # the line reaches as far as the table says
            (entity,) = space.query(f'*[layer=="{cut["layer"]}"]')
            xs = [x * 25.4 for x, *_ in entity.get_points()]
            assert (min(xs), max(xs)) == pytest.approx((cut["line_from"], cut["line_to"]), abs=1e-5)
    if "head" not in kinds:
        return
    head = json.loads((tmp_path / f"{layout.name}-head.json").read_text(encoding="utf-8"))["cuts"]
    circles = readfile(tmp_path / f"{layout.name}-head.dxf").modelspace().query("CIRCLE")
    holes = [(cut["x"], cut["y"], cut["diameter"]) for cut in head if cut["layer"] == "tuners"]
    assert holes == [
        pytest.approx((c.dxf.center.x * 25.4, c.dxf.center.y * 25.4, c.dxf.radius * 50.8), abs=1e-5) for c in circles
    ]
    assert len(holes) == (len(layout.tuners) if layout.slots is None else 0)  # bored in from the sides


def test_a_spoilt_table_is_noticed(tmp_path: Path) -> None:
    job = DrawnJob("redpoll", draw("pockets", layout_of("redpoll")))
    assert [target.file for _, target in planned(job)] == ["redpoll-pockets.dxf", "redpoll-pockets.json"]
    writer = TableWriter()
    (target,) = writer.targets(job)
    path = tmp_path / target.file
    writer.write(job, target, path)
    writer.verify(job, target, path)
    path.write_text(path.read_text(encoding="utf-8").replace("9.3,", "9.4,", 1), encoding="utf-8")
    with pytest.raises(ExportError, match="its data are not those written"):
        writer.verify(job, target, path)
