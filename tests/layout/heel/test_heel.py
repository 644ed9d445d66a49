"""Tenons and stacked heels: closed forms for the parts, plane shoulders, a swell that never goes back."""

from __future__ import annotations

import numpy as np
import pytest
from ends_samples import TENON, design
from ends_solids import assert_sound, box, built, glued, laid_out, lowest, share

from neckmodel.checks import check
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import volume

FAR = (-200.0, 200.0)
JOINT = 642 * (1 - 2 ** (-14 / 12))


def test_the_tenon_is_a_plain_block() -> None:
    """20 x 22 x 50 beyond the joint, less what the rod's channel takes: none reaches so far here."""
    parts = built(TENON)
    assert parts.layout.heel.x_joint == pytest.approx(JOINT)
    assert parts.layout.heel.x_end == pytest.approx(JOINT + 20)
    beyond = share(parts.carved, box((JOINT, JOINT + 50), FAR, FAR))
    assert beyond == pytest.approx(20 * 22 * 50, rel=1e-7)
    limits = parts.carved.intersect(box((JOINT + 0.001, JOINT + 50), FAR, FAR)).BoundingBox(1e-7)
    assert (limits.ymin, limits.ymax, limits.zmin, limits.zmax) == pytest.approx((-11, 11, -50, 0), abs=1e-6)


def test_the_shoulders_are_one_plane_square_to_the_centre_line() -> None:
    parts = built(TENON)
    width = 2 * parts.layout.back.half_width(JOINT)
    faces = [
        face
        for face in parts.carved.Faces()
        if face.geomType() == "PLANE" and abs(face.Center().x - JOINT) < 1e-9 and abs(face.normalAt().x) > 1 - 1e-12
    ]
    assert len(faces) == 1
    assert faces[0].Area() == pytest.approx(width * 60 - 22 * 50, rel=1e-7)
    assert faces[0].normalAt().x > 0


@pytest.mark.parametrize("tenon", [(5.0, 22.0, 60.0), (40.0, 53.0, 20.0), (20.0, 15.0, 60.0)])
def test_tenons_of_other_proportions(tenon: tuple[float, float, float]) -> None:
    """As deep as the heel, hardly narrower than it, shallow: each a block of its own size."""
    length, width, depth = tenon
    own = f"tenon = {{length = {length}, width = {width}, depth = {depth}}}"
    parts = built(TENON.replace("tenon = {length = 20.0, width = 22.0, depth = 50.0}", own))
    assert_sound(parts)
    beyond = share(parts.carved, box((JOINT, JOINT + 60), FAR, FAR))
    assert beyond == pytest.approx(length * width * depth, rel=1e-7)


def test_the_blocks_under_the_heel() -> None:
    """A heel of 60 from a board of 20: two blocks, glued at -20 and -40, cut out where the seams say."""
    parts = built(TENON)
    assert_sound(parts)
    assert list(glued(parts)) == ["neck", "heel-block-2", "heel-block-1"]
    assert [part.name for part in parts.parts] == ["neck", "heel-block-1", "heel-block-2"]
    tops = {"heel-block-1": (-20, -40), "heel-block-2": (-40, -60)}
    for piece in parts.layout.pieces:
        top, bottom = tops[piece.name]
        limits = parts[piece.name].solid.BoundingBox(1e-7)
        assert (limits.zmax, limits.zmin) == pytest.approx((top, bottom), abs=1e-6)
        assert piece.seam == top
        assert piece.stock[2] == 20
        # the sawn ramp is at 45 degrees from the heel's bottom where its swell begins; ends of 10 beyond the wood
        ramp = parts.layout.heel.x_swell - (60 + top)
        end = JOINT + 20 if top > -50 else JOINT
        assert piece.stock[0] == pytest.approx(end + 10 - ramp if end > JOINT else end - ramp, abs=1e-6)
    whole = built(TENON.replace("thickness = 20.0", "thickness = 60.0"))
    assert list(glued(whole)) == ["neck"]
    assert sum(volume(s) for s in glued(parts).values()) == pytest.approx(volume(whole["neck"].solid), rel=1e-5)


@pytest.mark.parametrize(
    ("board", "seams"),
    [(60.0, []), (57.5, []), (56.0, [-56.0]), (30.0, [-30.0]), (19.5, [-19.5, -39.0, -49.5]), (24.0, [-24.0, -48.0])],
)
def test_how_many_blocks(board: float, seams: list[float]) -> None:
    """None where less than 3 mm is missing; a last block thinner than that shares with the one above."""
    pieces = laid_out(TENON.replace("thickness = 20.0", f"thickness = {board}")).pieces
    assert sorted((p.seam for p in pieces), reverse=True) == pytest.approx(seams)
    assert sum(p.stock[2] for p in pieces) == pytest.approx(60 - board if seams else 0)


def test_the_heel_swells_and_never_back() -> None:
    """Depth at the deepest line along the exact solid, against the law and growing all the way to the joint."""
    parts = built(TENON)
    outside = parts.layout.outside
    xs = np.linspace(outside.heel.x_swell, JOINT - 0.01, 40)
    depth = np.array([-lowest(parts.carved, x) for x in xs])
    assert depth == pytest.approx([outside.keel(x) for x in xs], abs=0.01)
    assert np.all(np.diff(depth) > -1e-6)
    assert depth[-1] == pytest.approx(60, abs=1e-6)


def test_a_glued_neck_passes_its_checks() -> None:
    findings = check(build(laid_out(TENON, "[head]\ndrop = 6.5\nthickness = 13.0\n")))
    assert findings.passed
    assert findings["overlap/none"].verdict == "pass"
    assert {"neck", "heel-block-1", "heel-block-2"} <= {part.name for part in findings.parts}
    assert all(part.valid and part.watertight and part.solids == 1 for part in findings.parts)


@pytest.mark.parametrize(
    ("setting", "key", "says"),
    [
        ("heel.tenon.width=60", "heel.tenon.width", "more than the heel's"),
        ("heel.tenon.depth=61", "heel.tenon.depth", "more than the heel's"),
        ("heel.wood_ends_at=380", "heel.wood_ends_at", "not where a tenon 20.00 mm long"),
    ],
)
def test_tenons_that_do_not_fit_the_heel(setting: str, key: str, says: str) -> None:
    with pytest.raises(DesignError, match=says) as caught:
        lay_out(design(TENON, sets=(setting,)))
    assert caught.value.problems[0].key == key


def test_a_stated_end_of_the_wood_includes_the_tenon() -> None:
    assert lay_out(design(TENON, sets=(f"heel.wood_ends_at={JOINT + 20:.2f}",))).heel.x_end == round(JOINT + 20, 2)
