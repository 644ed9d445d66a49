"""Meshes close, know their faces, do not depend on history, and state an error that holds."""

from __future__ import annotations

import math
from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest
from measure_samples import half_cylinder, neck

from neckmodel.errors import MeshError
from neckmodel.meshes import deviation, from_manifold, mesh_of, solid_mesh, stated_error, to_manifold
from neckmodel.meshes.arrays import read_faces
from neckmodel.meshes.solid import tessellated
from neckmodel.meshes.weld import open_edges, weld


def random_solid(seed: int) -> cq.Solid:
    """A box less a turned cylinder and a ball, joined to a second box: sharp, round and tangled edges."""
    rng = np.random.default_rng(seed)
    solid: cq.Shape = cq.Solid.makeBox(*rng.uniform(20, 60, 3))
    axis = cq.Vector(*rng.normal(size=3))
    solid = solid.cut(
        cq.Solid.makeCylinder(rng.uniform(2, 8), 200, cq.Vector(10, 10, 10) - axis.normalized() * 100, axis)
    )
    ball = cq.Solid.makeSphere(rng.uniform(4, 12), cq.Vector(*rng.uniform(0, 30, 3)), angleDegrees1=-90)
    solid = solid.cut(ball).fuse(cq.Solid.makeBox(*rng.uniform(5, 30, 3), cq.Vector(*rng.uniform(-5, 5, 3))))
    return max(solid.Solids(), key=lambda one: one.Volume())


@pytest.mark.parametrize("seed", range(50))
def test_random_solids_close_and_keep_their_volume(seed):
    solid = random_solid(seed)
    mesh = mesh_of(solid, 0.1)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    # a skin at most 0.1 away holds a volume at most 0.1 x its area away (and the kernel's own integral is exact here)
    assert abs(mesh.volume - solid.Volume()) <= 0.1 * solid.Area()
    assert to_manifold(mesh).volume() == pytest.approx(mesh.volume, rel=1e-9)


def test_block_read_arrays_equal_those_read_node_by_node():
    turned = cq.Workplane(obj=neck(2.6)).rotate((0, 0, 0), (1, 2, 3), 40).val()
    located = turned.moved(cq.Location(cq.Vector(5, -7, 11), cq.Vector(0, 0, 1), 30))
    copy = tessellated(located, 0.1)
    fast, slow = read_faces(copy), read_faces(copy, fast=False)
    assert len(fast) == len(located.Faces())
    for one, two in zip(fast, slow, strict=True):
        assert np.array_equal(one.nodes, two.nodes)
        assert np.array_equal(one.triangles, two.triangles)
        assert np.array_equal(one.uv, two.uv)


def test_located_solid_is_meshed_where_it_stands():
    solid = cq.Solid.makeBox(10, 20, 30).moved(cq.Location(cq.Vector(100, 0, 0), cq.Vector(0, 0, 1), 90))
    assert np.allclose(mesh_of(solid, 0.1).bounds, [[80, 0, 0], [100, 10, 30]], atol=1e-9)
    assert mesh_of(solid, 0.1).volume == pytest.approx(6000)


def test_coarse_after_fine_is_coarse_again_and_leaves_the_solid_alone():
    solid = neck(2.6)
    first = mesh_of(solid, 0.4)
    solid.tessellate(0.02)  # leaves its fine mesh on the solid, where the kernel would silently use it again
    before = sum(len(face.triangles) for face in read_faces(solid.wrapped))
    again = mesh_of(solid, 0.4)
    assert sum(len(face.triangles) for face in read_faces(solid.wrapped)) == before > 2 * len(again.faces)
    assert np.array_equal(first.vertices, again.vertices)
    assert np.array_equal(first.faces, again.faces)
    assert len(mesh_of(solid, 0.1).faces) > 1.5 * len(again.faces)


def test_triangles_know_their_face():
    mesh = solid_mesh(half_cylinder(20, 50), 0.05)
    normals = mesh.mesh.face_normals
    flat = [number for number, surface in enumerate(mesh.surfaces) if surface is None]
    assert len(flat) == 3
    for number in flat:
        mine = normals[mesh.face_of_triangle == number]
        assert np.allclose(mine, mine[0], atol=1e-9)
    area = mesh.mesh.area_faces[~np.isin(mesh.face_of_triangle, flat)].sum()
    assert area == pytest.approx(math.pi * 20 * 50, rel=1e-3)


@pytest.mark.parametrize("linear", [0.5, 0.1, 0.02])
def test_sampled_deviation_is_the_sagitta_of_the_chords(linear):
    mesh = solid_mesh(half_cylinder(20, 50), linear)
    ring = mesh.mesh.vertices[np.abs(mesh.mesh.vertices[:, 0]) < 1e-9]
    angles = np.sort(np.arccos(np.clip(ring[:, 1] / 20, -1, 1)))
    sagitta = 20 * (1 - math.cos(np.diff(angles).max() / 2))
    # four points a triangle reach at least 8/9 of the sagitta, and never more than all of it
    assert 0.88 * sagitta <= deviation(mesh) <= sagitta * (1 + 1e-6)
    assert stated_error(replace(mesh, linear=1e-6)) >= sagitta
    assert stated_error(mesh) >= linear
    assert deviation(mesh, np.array([surface is None for surface in mesh.surfaces])[mesh.face_of_triangle]) == 0.0


def test_edges_can_be_truer_than_the_skin():
    solid = half_cylinder(20, 50)
    coarse, fine = solid_mesh(solid, 0.5), solid_mesh(solid, 0.5, edges=0.002)
    exact = math.pi * 20**2 / 2

    def end_area(mesh):
        normals = mesh.mesh.face_normals
        return mesh.mesh.area_faces[normals[:, 0] < -0.99].sum()

    # a segment's area is 2/3 chord x sagitta: the edge's deflection bounds what the end face misses
    assert exact - end_area(coarse) > 2 / 3 * math.pi * 20 * 0.05
    assert 0 < exact - end_area(fine) <= 2 / 3 * math.pi * 20 * 0.002


def test_an_open_shape_and_a_senseless_deflection_are_refused():
    with pytest.raises(MeshError, match="does not close"):
        mesh_of(cq.Shell.makeShell(cq.Solid.makeBox(1, 2, 3).Faces()[:5]), 0.1)
    with pytest.raises(MeshError, match="must be positive"):
        mesh_of(cq.Solid.makeBox(1, 2, 3), 0.0)


def test_nodes_either_side_of_a_grid_line_are_still_welded():
    corners = np.array([[0.5e-5, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    triangles = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]])
    soup = corners[triangles].reshape(-1, 3)
    soup[::2, 0] += 1e-9
    loose = np.arange(12).reshape(-1, 3)
    assert open_edges(loose) == 12
    vertices, joined, kept = weld(soup, loose)
    assert len(vertices) == 4
    assert kept.all()
    assert open_edges(joined) == 0


def test_round_trip_through_the_boolean_library():
    mesh = mesh_of(half_cylinder(20, 50), 0.05)
    back = from_manifold(to_manifold(mesh))
    assert back.volume == pytest.approx(mesh.volume, rel=1e-12)
    assert np.allclose(back.bounds, mesh.bounds, atol=1e-12)
    with pytest.raises(MeshError, match="the lid"):
        to_manifold(mesh.submesh([np.arange(5)], append=True), "the lid")


def test_a_face_that_one_algorithm_leaves_open_is_meshed_by_another(monkeypatch):
    tried = []
    solid = cq.Solid.makeBox(1, 2, 3)

    def first_open(triangles):
        tried.append(len(triangles))
        return 4 if len(tried) < 3 else open_edges(triangles)

    monkeypatch.setattr("neckmodel.meshes.solid.open_edges", first_open)
    mesh = solid_mesh(solid, 0.2)
    assert len(tried) == 3
    assert mesh.edges == pytest.approx(0.05)  # the third way: edges four times finer
    assert mesh.mesh.volume == pytest.approx(6.0)


def test_a_fin_of_no_thickness_is_dropped():
    """A tetrahedron, on one of its edges a triangle twice over, back to back: four faces share that edge."""
    vertices = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, -1]], float)
    skin = [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]]
    fin = [[1, 2, 4], [2, 1, 4]]
    nodes, triangles, kept = weld(vertices, np.array(skin + fin))
    assert kept.tolist() == [True] * 4 + [False] * 2
    assert open_edges(triangles) == 0
    assert len(nodes) == 5
    one_sided = weld(vertices, np.array([*skin, fin[0]]))
    assert one_sided[2].all()  # that is a skin that does not close, and stays one
    assert open_edges(one_sided[1]) > 0
