"""A mesh whose kernel leaves a face without triangles is made another way."""

from __future__ import annotations

import cadquery as cq
import pytest

from neckmodel.errors import MeshError
from neckmodel.meshes import solid


def test_the_next_way_is_tried_where_one_leaves_a_face_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first way is made to fail: the box of 2 x 3 x 4 is still closed, and holds 24."""
    read, calls = solid.read_faces, []

    def first_fails(shape: object) -> object:
        calls.append(shape)
        if len(calls) == 1:
            raise MeshError("its face 6 was left without triangles")
        return read(shape)

    monkeypatch.setattr(solid, "read_faces", first_fails)
    mesh = solid.mesh_of(cq.Workplane().box(2, 3, 4).val(), 0.1)
    assert len(calls) == 2
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(24.0)


def test_what_fails_every_way_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    def always_fails(shape: object) -> object:  # noqa: ARG001
        raise MeshError("its face 6 was left without triangles")

    monkeypatch.setattr(solid, "read_faces", always_fails)
    with pytest.raises(MeshError, match="face 6 was left"):
        solid.mesh_of(cq.Workplane().box(2, 3, 4).val(), 0.1)
