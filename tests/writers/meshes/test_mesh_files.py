"""STL, 3MF and GLB, each read by a library other than the one that wrote it or against its published standard."""

from __future__ import annotations

import struct
import zipfile
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import cadquery as cq
import lib3mf
import numpy as np
import pytest
import trimesh
import writer_samples as samples

from neckmodel.errors import ExportError
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.parts import Part
from neckmodel.writers.atomic import produce, verify
from neckmodel.writers.base import PRINTING, VIEWING, Bodies, Deflection, Job, _check_mesh
from neckmodel.writers.manifest import Manifest
from neckmodel.writers.meshes.glb import glb_tree, linear
from neckmodel.writers.meshes.stl import stl_bytes
from neckmodel.writers.registry import FORMATS

Export = tuple[Path, Manifest]
STL, MF, GLB = FORMATS["stl"], FORMATS["3mf"], FORMATS["glb"]


def file(export: Export, name: str) -> Path:
    return export[0] / f"O-Grosse{name}"


def test_stl_is_closed_in_place_and_of_the_right_size(export: Export) -> None:
    mesh = trimesh.load_mesh(file(export, "-blank.stl"))
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert tuple(mesh.bounds.ravel()) == pytest.approx(samples.BLANK_BOX, abs=1e-4)
    # only the round walls are facetted: a chord of the deflection's angle (0.2 rad) in a circle is shorter than the
    # arc, so a facetted hole has between 1 - 0.2^2 / 6 and 1 of the round one's area
    round_off = (np.pi * 3.175**2 * 9.5 + np.pi * 2.25**2 * 13.0) * 0.2**2 / 6
    assert samples.blank_volume() <= mesh.volume <= samples.blank_volume() + round_off
    hole = trimesh.proximity.closest_point_naive(mesh, [[samples.HOLE["x"], samples.HOLE["y"], -6.0]])
    assert hole[1][0] == pytest.approx(samples.HOLE["radius"], abs=PRINTING.linear)


def test_stl_bytes_by_the_layout_of_the_format(export: Export) -> None:
    """Binary STL: 80 bytes of text, a count, then 50 bytes a triangle (common practice; it has no standard)."""
    data = file(export, "-neck.stl").read_bytes()
    assert data[:80] == b"neckmodel; unit mm".ljust(80)
    assert not data.startswith(b"solid")
    (count,) = struct.unpack_from("<I", data, 80)
    assert len(data) == 84 + 50 * count
    normal, a, b, c = np.frombuffer(data, "<f4", 12, 84).astype(float).reshape(4, 3)
    assert np.cross(b - a, c - a) / np.linalg.norm(np.cross(b - a, c - a)) == pytest.approx(normal, abs=1e-6)


def test_stl_has_the_parts_that_are_made_and_no_hardware(export: Export) -> None:
    assert sorted(path.name for path in export[0].glob("*.stl")) == ["O-Grosse-blank.stl", "O-Grosse-neck.stl"]


@pytest.mark.parametrize("header", ["solid neck", "x" * 81, "ä" * 41])
def test_stl_refuses_a_header_that_readers_would_misread(header: str) -> None:
    with pytest.raises(ExportError, match="header"):
        stl_bytes(trimesh.creation.box(), header)


def test_stl_remark_fits_into_the_header(failed_job: Job, tmp_path: Path) -> None:
    path = produce(STL, failed_job, STL.targets(failed_job)[0], tmp_path)
    assert path.read_bytes()[:80].rstrip() == b"neckmodel; unit mm; EXPORTED DESPITE FAILED CHECKS"


@pytest.mark.parametrize("name", ["stl", "3mf", "glb"])
def test_one_changed_byte_of_a_mesh_is_found(name: str, job: Job, tmp_path: Path) -> None:
    writer = FORMATS[name]
    path = produce(writer, job, writer.targets(job)[0], tmp_path)
    data = bytearray(path.read_bytes())
    # in the STL and GLB files this is the exponent of a coordinate, in the 3MF file part of the packed mesh
    position = {
        "stl": 84 + 50 * 20 + 12 + 3,
        "3mf": len(data) // 2,
        "glb": 20 + struct.unpack_from("<I", data, 12)[0] + 8,
    }
    data[position[name] + (3 if name == "glb" else 0)] ^= 0x41
    path.write_bytes(data)
    with pytest.raises(ExportError, match=path.name):
        verify(writer, job, writer.targets(job)[0], path)


def read_3mf(path: Path) -> tuple[object, list[object]]:
    """The reference library, strict: any deviation from the 3MF core specification is an error."""
    model = lib3mf.Wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    assert reader.GetWarningCount() == 0
    items, bodies = model.GetBuildItems(), []
    while items.MoveNext():
        bodies.append(model.GetMeshObjectByID(items.GetCurrent().GetObjectResourceID()))
    return model, bodies


def test_3mf_is_strictly_right_with_names_colours_and_unit(export: Export) -> None:
    model, bodies = read_3mf(file(export, ".3mf"))
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    assert model.GetMetaDataGroup().GetMetaDataByKey("", "Title").GetValue() == samples.NAME
    assert [body.GetName() for body in bodies] == ["neck", "rod"]  # not the stock, which would hide the neck
    assert all(body.IsManifoldAndOriented() for body in bodies)
    group, index, _ = bodies[1].GetObjectLevelProperty()
    colour = model.GetBaseMaterialGroupByID(group).GetDisplayColor(index)
    assert (colour.Red, colour.Green, colour.Blue, colour.Alpha) == (115, 128, 153, 255)  # 0.45, 0.5, 0.6 of 255
    assert len({model.GetBuildUUID()[1], *(body.GetUUID()[1] for body in bodies)}) == 3


def test_3mf_read_as_plain_xml_is_in_place(export: Export) -> None:
    """By the 3MF core specification 1.3: a ZIP with 3D/3dmodel.model, vertices in the model's unit."""
    with zipfile.ZipFile(file(export, ".3mf")) as packed:
        model = ElementTree.fromstring(packed.read("3D/3dmodel.model"))
    assert model.get("unit") == "millimeter"
    [body] = [found for found in model.iterfind(".//{*}object") if found.get("name") == "rod"]
    vertices = [[float(vertex.get(axis)) for axis in "xyz"] for vertex in body.iterfind(".//{*}vertex")]
    faces = [[int(face.get(f"v{corner}")) for corner in (1, 2, 3)] for face in body.iterfind(".//{*}triangle")]
    rod = trimesh.Trimesh(vertices, faces, process=False)
    (start, end), radius = samples.ROD["x"], samples.ROD["radius"]
    low = (start, samples.ROD["y"] - radius, samples.ROD["z"] - radius)
    high = (end, samples.ROD["y"] + radius, samples.ROD["z"] + radius)
    assert rod.bounds.ravel() == pytest.approx((*low, *high), abs=PRINTING.linear)
    assert rod.bounds[:, 0] == pytest.approx((start, end), abs=1e-4)
    assert rod.is_watertight


def test_3mf_of_a_failed_design_says_so_in_its_title(failed_job: Job, tmp_path: Path) -> None:
    model, _ = read_3mf(produce(MF, failed_job, MF.targets(failed_job)[0], tmp_path))
    title = model.GetMetaDataGroup().GetMetaDataByKey("", "Title").GetValue()
    assert title == f"{samples.NAME} - EXPORTED DESPITE FAILED CHECKS"


def test_3mf_of_another_colour_or_order_is_found(job: Job, tmp_path: Path) -> None:
    target = MF.targets(job)[0]
    blue = replace(job, bodies=Bodies(replace(part, colour=(0.1, 0.2, 0.9)) for part in job.bodies.parts))
    path = produce(MF, blue, target, tmp_path)
    with pytest.raises(ExportError, match="neck: colour has changed; rod: colour has changed"):
        verify(MF, job, target, path)
    path = produce(MF, job, replace(target, parts=target.parts[::-1]), tmp_path)
    with pytest.raises(ExportError, match="parts are"):
        verify(MF, job, target, path)


def test_glb_is_in_metres_with_y_up(export: Export) -> None:
    """glTF 2.0, section 3.4: right-handed, +Y up, metres."""
    scene = trimesh.load_scene(file(export, ".glb"), process=False)
    assert list(scene.geometry) == ["neck", "rod"]
    (start, end), radius, (y, z) = samples.ROD["x"], samples.ROD["radius"], (samples.ROD["y"], samples.ROD["z"])
    rod = scene.geometry["rod"].copy()
    rod.apply_transform(scene.graph.get("rod")[0])
    low, high = (start, z - radius, -y - radius), (end, z + radius, -y + radius)
    assert rod.bounds.ravel() * 1000 == pytest.approx((*low, *high), abs=VIEWING.linear)
    assert rod.volume * 1e9 == pytest.approx(samples.rod_volume(), rel=0.3**2 / 6)  # and positive: not mirrored


def test_glb_colours_are_linear_light(export: Export) -> None:
    tree = glb_tree(file(export, ".glb"))
    colours = {item["name"]: item["pbrMetallicRoughness"]["baseColorFactor"] for item in tree["materials"]}
    # sRGB 0.5 is 0.214041 in linear light (IEC 61966-2-1; the value is widely tabulated, here from memory)
    assert colours["rod"][1] == pytest.approx(0.214041, abs=1e-6)
    assert colours["rod"][3] == 1.0
    assert linear(0.04045) == pytest.approx(0.04045 / 12.92)
    assert linear(1.0) == 1.0
    assert tree["asset"]["extras"] == {"title": samples.NAME, "unit": "m", "up": "y"}


def test_a_mesh_that_is_not_its_solid_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    solid = cq.Solid.makeBox(10, 20, 30)
    box = Bodies([Part("box", solid, (0.5, 0.5, 0.5), "wood")])
    hollow = trimesh.util.concatenate([trimesh.creation.box((10, 20, 30)), trimesh.creation.box((9, 19, 29))])
    wrong = {
        "larger or smaller": trimesh.creation.box((10, 20, 30.2)),
        "mm3, the solid 6000.0 mm3": hollow,
        "not a closed body": trimesh.Trimesh(hollow.vertices, hollow.faces[1:], process=False),
        "with outward faces": trimesh.Trimesh(hollow.vertices, hollow.faces[:, ::-1], process=False),
    }
    assert volume(solid) == pytest.approx(6000)
    for says, mesh in wrong.items():
        mesh.apply_translation((5, 10, 15) - np.mean(mesh.bounds, axis=0))
        monkeypatch.setattr("neckmodel.meshes.mesh_of", lambda *_, mesh=mesh: mesh)
        with pytest.raises(ExportError, match=says):
            box.mesh("box", PRINTING)


def test_a_mesh_is_made_once_per_deflection(job: Job) -> None:
    bodies = job.bodies
    assert bodies.mesh("neck", PRINTING) is bodies.mesh("neck", PRINTING)
    assert len(bodies.mesh("neck", PRINTING).faces) > len(bodies.mesh("neck", VIEWING).faces)


def test_3mf_holds_no_time_stamp(export: Export) -> None:
    with zipfile.ZipFile(file(export, ".3mf")) as packed:
        # the epoch of the ZIP format, which stands for "no date"
        assert {info.date_time[0] for info in packed.infolist()} == {1980}


@pytest.mark.parametrize(("grown", "says"), [(0.9, None), (1.5, "0.150 mm larger or smaller")])
def test_a_mesh_is_as_large_as_its_solid_within_its_deflection(grown: float, says: str | None) -> None:
    """A block of 20 x 20 x 20 mm whose mesh reaches farther on one side, by a share of the deflection of 0.1 mm."""
    block = cq.Solid.makeBox(20, 20, 20)
    mesh = trimesh.creation.box(bounds=[[0, 0, 0], [20, 20, 20 + grown * 0.1]])
    part = Part("blank", block, (0.5, 0.5, 0.5), "wood")
    with pytest.raises(ExportError, match=says) if says else nullcontext():
        _check_mesh(part, (0, 0, 0, 20, 20, 20), mesh, Deflection(0.1, 0.2))


@pytest.mark.parametrize(("share", "says"), [(0.9, None), (1.5, "the solid 8000.0 mm3")])
def test_a_mesh_holds_as_much_as_its_solid_within_its_deflection(share: float, says: str | None) -> None:
    """A dent in the middle of one side, so that the mesh's box is right: by a share of deflection times surface."""
    mesh = trimesh.creation.box(bounds=[[0, 0, 0], [20, 20, 20]]).subdivide().subdivide()
    middle = np.argmin(np.linalg.norm(mesh.vertices - (10.0, 10.0, 20.0), axis=1))
    corners = mesh.vertices.copy()
    ring = float(mesh.area_faces[np.any(mesh.faces == middle, axis=1)].sum())
    corners[middle, 2] -= 3 * share * 0.1 * mesh.area / ring  # a pyramid: a third of its foot times its depth
    dented = trimesh.Trimesh(corners, mesh.faces, process=False)
    part = Part("blank", cq.Solid.makeBox(20, 20, 20), (0.5, 0.5, 0.5), "wood")
    with pytest.raises(ExportError, match=says) if says else nullcontext():
        _check_mesh(part, (0, 0, 0, 20, 20, 20), dented, Deflection(0.1, 0.2))
