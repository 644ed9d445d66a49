"""Shared space: touching is none, and what is shared is measured right."""

from __future__ import annotations

import cadquery as cq
import manifold3d
import numpy as np
import pytest
import trimesh

from neckmodel.checks.measure.overlap import CURVED_SHARE, Fit, overlaps, shared
from neckmodel.limits import FLAT
from neckmodel.meshes import from_manifold, mesh_of


def box(size, at=(0.0, 0.0, 0.0)):
    return trimesh.Trimesh(*_box_arrays(size, at), process=False)


def _box_arrays(size, at):
    mesh = manifold3d.Manifold.cube(size).translate(at).to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts).astype(int)


def in_pocket(push: float, seed: int | None = None):
    """A 30 x 12 x 8 block in a pocket of that size, pushed into the floor, both moved to a random pose."""
    outer = manifold3d.Manifold.cube((50, 40, 20)) - manifold3d.Manifold.cube((30, 12, 9)).translate((10, 14, 12))
    inner = manifold3d.Manifold.cube((30, 12, 8)).translate((10, 14, 12 - push))
    parts = {"neck": from_manifold(outer).copy(), "rod": from_manifold(inner).copy()}
    turn = np.eye(4)
    if seed is not None:
        rng = np.random.default_rng(seed)
        turn = trimesh.transformations.random_rotation_matrix(rng.random(3))
        turn[:3, 3] = rng.uniform(-300, 300, 3)
    for mesh in parts.values():
        mesh.apply_transform(turn)
    return parts, turn


@pytest.mark.parametrize("seed", range(20))
def test_touching_faces_share_nothing_in_any_pose(seed):
    parts, _ = in_pocket(0.0, seed)
    assert overlaps(parts, linear=0.1) == []
    assert shared(parts, linear=0.1) == []


@pytest.mark.parametrize("push", [1e-3, 0.01, 0.1])
@pytest.mark.parametrize("seed", [None, 1, 7])
def test_slab_pushed_in_is_found_with_its_depth_place_and_way_out(push, seed):
    parts, turn = in_pocket(push, seed)
    (found,) = overlaps(parts, linear=0.1)
    volume = 30 * 12 * push
    assert found.volume == pytest.approx(volume, rel=4e-3)
    assert found.thickness == pytest.approx(2 * volume / (2 * (30 * 12 + 30 * push + 12 * push)), rel=4e-3)
    centre = turn @ [25, 20, 12 - push / 2, 1]
    assert found.at == pytest.approx(centre[:3], abs=0.01)
    assert abs(np.dot(found.direction, turn[:3, 2])) == pytest.approx(1, abs=1e-9)
    # from the neck toward the rod, which stands above the pocket's floor
    assert np.dot(found.direction, turn[:3, 2]) > 0
    assert (found.first, found.second) == ("neck", "rod")


def test_less_than_the_flat_limit_is_no_overlap():
    parts, _ = in_pocket(FLAT / 2)
    assert overlaps(parts, linear=0.1) == []
    assert overlaps(in_pocket(2 * FLAT)[0], linear=0.1) != []


def dowel_in_hole(tight: float, linear: float) -> dict[str, trimesh.Trimesh]:
    """A dowel 8 thick in a hole 8 wide, the seams of their round faces apart: chords cross chords."""
    wood = cq.Workplane().box(30, 30, 20, centered=(True, True, False)).faces(">Z").workplane().hole(8).val()
    dowel = cq.Workplane(obj=cq.Solid.makeCylinder(4 + tight, 20)).rotate((0, 0, 0), (0, 0, 1), 7.3).val()
    return {"wood": mesh_of(wood, linear, 1.0), "dowel": mesh_of(dowel, linear, 1.0)}


@pytest.mark.parametrize("linear", [0.1, 0.05, 0.02])
def test_round_contact_is_judged_by_the_meshes_own_error(linear):
    parts = dowel_in_hole(0.0, linear)
    assert overlaps(parts, linear=linear) != []
    assert overlaps(parts, linear=linear, curved=[frozenset(("dowel", "wood"))]) == []


def test_tight_dowel_is_found_and_may_be_meant():
    parts = dowel_in_hole(0.05, 0.02)
    pair = frozenset(("dowel", "wood"))
    (found,) = overlaps(parts, linear=0.02, curved=[pair])
    assert found.thickness == pytest.approx(0.05, abs=CURVED_SHARE * 0.02)
    assert found.allowed == pytest.approx(CURVED_SHARE * 0.02)
    assert overlaps(parts, linear=0.02, curved=[pair], fits=[Fit("wood", "dowel", 0.06)]) == []
    assert overlaps(parts, linear=0.02, curved=[pair], fits=[Fit("wood", "dowel", 0.03)]) != []
    assert overlaps(parts, linear=0.02, curved=[pair], fits=[Fit("wood", "rod", 1.0)]) != []


def test_only_pairs_that_meet_thickest_first():
    parts = {
        "a": box((10, 10, 10)),
        "b": box((10, 10, 10), (9, 0, 0)),
        "c": box((10, 10, 10), (0, 9.5, 0)),
        "far": box((1, 1, 1), (100, 0, 0)),
    }
    found = overlaps(parts, linear=0.1)
    assert [(one.first, one.second) for one in found] == [("a", "b"), ("a", "c"), ("b", "c")]
    volumes = {(one.first, one.second): one.volume for one in found}
    assert volumes == pytest.approx({("a", "b"): 100, ("a", "c"): 50, ("b", "c"): 5}, rel=1e-5)
