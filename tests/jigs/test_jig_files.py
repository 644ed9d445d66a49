"""A jig's folder and its command: whole or not there, re-read, the same bytes again; refusals."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
import trimesh
import typer
from jig_runs import CASE, hashes, inspected, made, written

from neckmodel.cli.app import app
from neckmodel.errors import ExportError
from neckmodel.findings import Finding, Findings
from neckmodel.jigs import KINDS
from neckmodel.jigs.plan import level_outlines
from neckmodel.solids.kernel.gate import volume
from neckmodel.writers.folders.jig import write_jig


@pytest.fixture
def jig_folder() -> Path:
    return written()


def export(folder: Path, findings: Findings | None = None) -> dict[str, str]:
    """Write the case's jig; the SHA-256 of each file."""
    write_jig(made(*CASE), findings or inspected(*CASE), folder)
    return hashes(folder)


def command(*words: str) -> Any:
    return typer.main.get_command(app).main(list(words), standalone_mode=False)


def test_a_folder_holds_every_piece_in_every_form_and_the_same_bytes_again(jig_folder: Path, tmp_path: Path) -> None:
    first, second = hashes(jig_folder), export(tmp_path / "two")
    stem = "redpoll-jig-screw-guide"
    assert set(first) == {
        f"{stem}-heel.step",
        f"{stem}-heel.stl",
        f"{stem}-heel.dxf",
        f"{stem}-heel.svg",
        f"{stem}-A4.pdf",
        f"{stem}-bed-1.3mf",
        "design.toml",
        "findings.json",
        "layout.json",
        "manifest.json",
    }
    assert first == second
    listed = {fact["file"]: fact["sha256"] for fact in json.loads((jig_folder / "manifest.json").read_text())["files"]}
    assert listed == {name: sha for name, sha in first.items() if name != "manifest.json"}


def test_stl_lies_on_the_bed_and_step_in_its_place(jig_folder: Path) -> None:
    import cadquery as cq

    mesh = trimesh.load_mesh(jig_folder / "redpoll-jig-screw-guide-heel.stl")
    assert mesh.bounds[0] == pytest.approx([5, 5, 0], abs=1e-3)
    solid = cq.importers.importStep(str(jig_folder / "redpoll-jig-screw-guide-heel.step")).val()
    assert solid.BoundingBox().zmax == pytest.approx(-19.0 + 6.0, abs=1e-3)  # the lip, 6 up the heel's side
    assert volume(solid) == pytest.approx(volume(made(*CASE).parts[0].solid), rel=1e-6)
    assert mesh.volume == pytest.approx(volume(solid), rel=2e-3)


def test_the_drawing_s_lowest_outlines_enclose_what_touches_the_bed(jig_folder: Path) -> None:
    """By the shoelace formula with the arcs' segments `r**2 (a - sin a)/2`, holes counted off."""
    document = ezdxf.readfile(jig_folder / "redpoll-jig-screw-guide-heel.dxf")
    areas = []
    for line in document.modelspace().query('LWPOLYLINE[layer=="0.00 over the bed"]'):
        points = [tuple(map(float, p)) for p in line.get_points("xyb")]
        area = 0.0
        for (x0, y0, bulge), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True):
            area += (x0 * y1 - x1 * y0) / 2
            if bulge:
                turn = 4 * math.atan(bulge)
                radius = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(abs(turn) / 2)
                area += math.copysign(radius**2 * (abs(turn) - math.sin(abs(turn))) / 2, turn)
        areas.append(abs(area))
    stated = next(f for f in inspected(*CASE).findings if f.check == "jig/flat").measured
    # letters with an inside (A, D, O, P, R) leave islands: every second outline within another counts the other way
    outlines = [o for o in level_outlines(made(*CASE).printed[0].part.solid) if o.height == 0.0]
    assert len(areas) == len(outlines)
    islands = sum(area for area, outline in zip(sorted(areas), sorted_areas(outlines), strict=True) if outline)
    assert max(areas) - (sum(areas) - max(areas)) + 2 * islands == pytest.approx(stated, rel=1e-3)


def sorted_areas(outlines: list[Any]) -> list[bool]:
    """For each outline, smallest first: whether it is an island, that is, lies inside a letter."""
    from shapely.geometry import LineString, Polygon

    def shape_of(outline: Any) -> Any:
        if len(outline.points) > 2:
            return Polygon(outline.points)
        across = LineString(outline.points)  # a circle: two half turns
        return across.centroid.buffer(across.length / 2)

    shapes = sorted(map(shape_of, outlines), key=lambda shape: shape.area)
    return [sum(other.contains(shape) for other in shapes if other is not shape) == 2 for shape in shapes]


def test_a_failing_finding_writes_nothing(tmp_path: Path) -> None:
    bad = Findings("redpoll", (Finding("jig/fit", "jig-screw-guide-heel", "fail", "too tight"),), ())
    with pytest.raises(ExportError, match="jig/fit"):
        export(tmp_path / "jig", bad)
    assert list(tmp_path.iterdir()) == []


def test_the_command_writes_measures_and_cautions(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert command("jig", "redpoll", "screw-guide", "--json", "--quiet") == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["schema"], data["kind"], data["passed"]) == ("neckmodel/jig/1", "screw-guide", True)
    assert all(found["check"].startswith("jig/") for found in data["findings"])
    assert "55 C" in data["cautions"]
    assert "never the only guard" in data["cautions"]
    folder = tmp_path / "exports/redpoll-jig-screw-guide"
    assert set(data["files"]) | {"manifest.json"} == {path.name for path in folder.iterdir()}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("pipit", "routing-template"), "no guide bush is stated"),
        (("garganey", "screw-guide"), "no screws are stated"),
        (("redpoll", "jug"), "'jug' is not known; it is one of: routing-template"),
    ],
)
def test_what_does_not_apply_is_refused_with_its_reason_and_code_2(
    words: tuple[str, ...],
    says: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert command("jig", *words, "--quiet") == 2
    error = capsys.readouterr().err
    assert says in error
    assert len(error.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_the_list_names_every_kind_and_why_one_does_not_apply(capsys: pytest.CaptureFixture[str]) -> None:
    assert command("jig", "pipit", "list", "--json", "--quiet") == 0
    kinds = {entry["kind"]: entry["refused"] for entry in json.loads(capsys.readouterr().out)["kinds"]}
    assert list(kinds) == list(KINDS)
    refused = {"routing-template", "screw-guide", "bore-guide", "dovetail-template", "slot-template", "roller-guide"}
    assert {name for name, why in kinds.items() if why} == refused


def test_a_left_handed_jig_is_the_mirror_image_with_letters_that_read() -> None:
    """Bare, both take the same; the grooves are moved, not mirrored, so the letters are the same solids."""
    right, left = made(*CASE), made(*CASE, 'design.hand="left"')
    for one, other, bare in zip(right.parts, left.parts, left.draft.pieces, strict=True):
        a, b = one.solid.BoundingBox(), other.solid.BoundingBox()
        assert (b.ymin, b.ymax) == pytest.approx((-a.ymax, -a.ymin), abs=1e-6)
        assert volume(one.solid) == pytest.approx(volume(other.solid), rel=1e-9)
        assert volume(other.solid) < volume(bare.solid)
        centre = np.array(one.solid.Center().toTuple()) * [1, -1, 1]
        assert np.array(other.solid.Center().toTuple()) == pytest.approx(centre, abs=0.05)
