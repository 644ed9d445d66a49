"""The sled of a left-handed neck: its pieces mirrored, still on the faces that they are printed on."""

from __future__ import annotations

import numpy as np
import pytest
from neck_runs import laid_out

from neckmodel.jigs.make import make_jig
from neckmodel.jigs.types import ON_ITS_BASS_SIDE, ON_ITS_TREBLE_SIDE, UPSIDE_DOWN
from neckmodel.meshes import mesh_of
from neckmodel.solids.kernel.gate import volume


def test_a_mirrored_piece_lies_on_the_same_face() -> None:
    """A rail on its bass side: mirrored, that face is at +y, and still goes down; a turn, not a mirror image."""
    for pose, y in ((ON_ITS_BASS_SIDE, -38.5), (ON_ITS_TREBLE_SIDE, 38.5)):
        assert pose.turn((0.0, y, 0.0))[2] == -38.5
        assert pose.mirrored.turn((0.0, -y, 0.0))[2] == -38.5
        assert np.linalg.det(pose.mirrored.rows) == pytest.approx(1.0)
        assert pose.mirrored.mirrored == pose
        assert pose.after(pose.undone).rows == ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    assert UPSIDE_DOWN.mirrored == UPSIDE_DOWN


@pytest.mark.sweep
def test_a_left_handed_sled_is_the_mirror_image_with_letters_that_read() -> None:
    """Its rails change sides, lie on their outer sides, and take as much by their letters as the right-handed ones."""
    right = make_jig(laid_out("wheatear"), "routing-template")
    left = make_jig(laid_out("wheatear", 'design.hand="left"'), "routing-template")
    seen = 0
    for one, other, bare, printed in zip(right.parts, left.parts, left.draft.pieces, left.printed, strict=True):
        if "-rail-" not in one.name:
            continue
        seen += 1
        a, b = one.solid.BoundingBox(), other.solid.BoundingBox()
        assert (b.ymin, b.ymax) == pytest.approx((-a.ymax, -a.ymin), abs=1e-6)
        assert volume(other.solid) == pytest.approx(volume(one.solid), rel=1e-9)
        assert volume(other.solid) < volume(bare.solid)
        assert printed.part.solid.BoundingBox().zlen == pytest.approx(38.5 - 14.5, abs=1e-6)
        mesh = mesh_of(printed.part.solid, 0.05)
        corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
        on_bed = corners[(corners[:, :, 2] < 1e-3).all(axis=1)]
        area = np.linalg.norm(np.cross(on_bed[:, 1] - on_bed[:, 0], on_bed[:, 2] - on_bed[:, 0]), axis=1).sum() / 2
        assert area > 1500  # mm2: its outer side, not an edge
    assert seen == 6
