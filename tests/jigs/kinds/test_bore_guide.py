"""The drilling guide for a soundhole rod's bore: where its hole leads, that it sits in the body and not in the neck's
way, that it prints, and that its files are read back."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import cadquery as cq
import numpy as np
import pytest
import trimesh
from soundhole_samples import BALL_END, IN_WOOD, TURNSTONE, laid_out, uncut, way
from typer.testing import CliRunner

from neckmodel.cli.app import app
from neckmodel.findings import Findings
from neckmodel.jigs import Jig, JigError, inspect, kind_named, make_jig
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.presets import path_of

BOLTED = (
    "heel.kind=bolted",
    "heel.wood_ends_at=390",
    "heel.depth=40",
    "rod.adjuster.length=10",
    "rod.length=374",
    "body.head_block_ends_at=410",
)
TILTED = (*IN_WOOD, *BALL_END, "rod.adjuster.axis_below_top=12", "rod.block.height=16", "design.hand=left")


@cache
def made(*overrides: str) -> Jig:
    return make_jig(laid_out(*overrides), "bore-guide")


@cache
def inspected(*overrides: str) -> Findings:
    return inspect(made(*overrides))


@pytest.mark.parametrize("overrides", [(), BOLTED, TILTED])
def test_it_passes_its_own_findings_and_carries_its_whole_label(overrides: tuple[str, ...]) -> None:
    found = inspected(*overrides)
    assert [f"{each.check}: {each.says}" for each in found if each.verdict != "pass"] == []
    assert {"jig/hole", "jig/fit", "jig/bed", "jig/overhang", "jig/solid"} <= {each.check for each in found}


def test_there_is_one_for_the_key_and_one_for_an_adjuster_beyond_the_wood() -> None:
    assert [part.name for part in made().parts] == ["jig-bore-guide-adjuster", "jig-bore-guide-key"]
    assert [part.name for part in made(*IN_WOOD).parts] == ["jig-bore-guide-key"]


@pytest.mark.parametrize("overrides", [(), IN_WOOD, BOLTED, TILTED])
def test_a_drill_goes_through_it_along_the_key_s_axis(overrides: tuple[str, ...]) -> None:
    """Second route: a rod of the drill's width along the axis of the rod's own solid passes; one 0.6 wider does not."""
    found, key = way(*overrides)
    layout = laid_out(*overrides)
    assert layout.rod is not None
    guide = to_manifold(mesh_of(made(*overrides).parts[-1].solid, 0.005))
    end = max(uncut(*overrides)["rod"].solid.Faces(), key=lambda face: face.Center().x)
    turn = math.radians(key.tilt)
    start_x = layout.heel.x_joint - 40.0
    pivot = key.x_tip + (key.size / 2 * math.cos(turn) if key.kind == "ball-end" else 0.0)
    start = cq.Vector(start_x, 0, end.Center().z + (start_x - pivot) * math.tan(turn))
    for width, clears in ((math.ceil(found.diameter * 10) / 10, True), (found.diameter + 0.6, False)):
        drill = cq.Solid.makeCylinder(width / 2, 120, start, cq.Vector(math.cos(turn), 0, math.sin(turn)))
        assert ((to_manifold(mesh_of(drill, 0.005)) ^ guide).volume() < 1e-3) == clears


def test_it_fills_the_neck_s_place_in_the_body_and_no_more() -> None:
    """What of it lies below the top, beyond the joint, is where the tenon will be; its fit is 0.2 at each cheek."""
    guide = to_manifold(mesh_of(made(*IN_WOOD).parts[0].solid, 0.01))
    beyond = guide.trim_by_plane((1.0, 0.0, 0.0), laid_out(*IN_WOOD).heel.x_joint + 0.1)
    below = beyond.trim_by_plane((0.0, 0.0, -1.0), 1.0)  # the top lies up to 0.5 below z = 0 there
    x0, y0, _, x1, y1, _ = below.bounding_box()
    assert (y0, y1) == (pytest.approx(-11.8, abs=0.01), pytest.approx(11.8, abs=0.01))
    assert x1 == pytest.approx(390.0215 - 0.2, abs=0.01)
    assert x0 >= 356.0


def test_every_facet_prints_without_support() -> None:
    """Second route to jig/overhang, facet by facet: on the bed, within 45 degrees, or a label's groove, 0.6 deep."""
    for piece in made(*TILTED).printed:
        mesh = mesh_of(piece.part.solid, 0.02)
        corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        area = np.linalg.norm(normal, axis=1) / 2
        down = np.degrees(np.arcsin(np.clip(-normal[:, 2] / np.maximum(2 * area, 1e-12), -1, 1)))
        hanging = (corners[:, :, 2].max(axis=1) > 1e-3) & (down > 45.01) & (area > 1e-6)
        assert set(np.round(corners[hanging][:, :, 2], 2).ravel().tolist()) <= {0.6}


def test_it_fits_a_small_bed_or_says_that_it_does_not() -> None:
    assert make_jig(laid_out("workshop.printer.bed=[150, 150, 120]"), "bore-guide").beds == 1
    with pytest.raises(JigError, match=r"larger than the printer's bed.*workshop\.printer\.bed"):
        make_jig(laid_out("workshop.printer.bed=[60, 60, 60]"), "bore-guide")


def test_other_necks_are_refused_with_the_reason() -> None:
    from neckmodel.design import read
    from neckmodel.layout import lay_out

    preset = path_of("wheatear")
    assert preset is not None
    with pytest.raises(JigError, match=r"no key enters through the soundhole; state adjusting_key\.enters"):
        kind_named("bore-guide").refuse(lay_out(read(preset)))


def test_its_files_are_read_back(tmp_path: Path) -> None:
    ran = CliRunner().invoke(app, ["jig", str(TURNSTONE), "bore-guide", "--out", str(tmp_path / "jig"), "--quiet"])
    assert ran.exit_code == 0, ran.output
    name = tmp_path / "jig/turnstone-jig-bore-guide-key"
    mesh = trimesh.load_mesh(f"{name}.stl")
    solid = cq.importers.importStep(f"{name}.step").val()
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(solid.Volume(), rel=2e-3)


def test_two_rods_get_a_hole_each_and_a_wall_beside_it() -> None:
    two = (*IN_WOOD, "rod.count=2", "rod.offset=9")
    found = {one.check: one for one in inspected(*two, "heel.tenon.width=48").findings}
    assert found["jig/hole"].verdict == "pass"
    with pytest.raises(JigError, match=r"would lie -0\.75 mm from the guide's side"):
        # of a tenon of 24: half of it less the fit of 0.2, the offset, and the hole's radius of 3.55
        kind_named("bore-guide").refuse(laid_out(*two, "heel.tenon.width=24"))
