"""Drilling guides: where their holes come to lie on the finished neck, and that they sit on it without biting."""

from __future__ import annotations

import math

import pytest
from jig_runs import drafted, inspected, made
from neck_runs import built, laid_out

from neckmodel.meshes import mesh_of, to_manifold

PAIRS = [
    ("redpoll", "screw-guide"),
    ("garganey", "tuner-guide"),
    *(
        pytest.param(*pair, marks=pytest.mark.sweep)
        for pair in (("redpoll", "tuner-guide"), ("dunnock", "tuner-guide"), ("dunnock", "screw-guide"))
    ),
]


@pytest.mark.parametrize(("preset", "kind"), PAIRS)
def test_a_guide_sits_on_the_finished_neck_without_biting(preset: str, kind: str) -> None:
    """Second route: the neck's own solid, which the guide was not made from; meshes to 0.02 mm touch along the face."""
    neck = to_manifold(mesh_of(built(preset)["neck"].solid, 0.02))
    for piece in drafted(preset, kind).pieces:
        guide = to_manifold(mesh_of(piece.solid, 0.02))
        assert (neck ^ guide).volume() < 0.5  # mm3


@pytest.mark.parametrize(("preset", "kind"), PAIRS)
def test_a_drill_through_the_guide_goes_down_the_planned_axis(preset: str, kind: str) -> None:
    """A rod of the drill's width along each planned axis passes the guide; one 0.5 wider does not."""
    layout = laid_out(preset)
    (piece,) = drafted(preset, kind).pieces
    guide = to_manifold(mesh_of(piece.solid, 0.02))
    if kind == "screw-guide":
        axes = [((s.x, s.y, s.z_bottom), (0.0, 0.0, 1.0), s.hole) for s in layout.screws]
    else:
        axes = [(t.on_face, t.axis, 3.0) for t in layout.tuners]
    import cadquery as cq

    for (x, y, z), (a, b, c), drill in axes:
        for width, clears in ((drill, True), (drill + 0.9, False)):
            start = cq.Vector(x - 20 * a, y - 20 * b, z - 20 * c)
            rod = to_manifold(mesh_of(cq.Solid.makeCylinder(width / 2, 40, start, cq.Vector(a, b, c)), 0.01))
            assert ((rod ^ guide).volume() < 1e-6) == clears


def test_pilot_holes_are_those_of_the_wood_handbook() -> None:
    """FPL-GTR-282 (2021), pages 8-10 and 8-11: hardwood, 90 % of a root of two thirds of the shank: 4.5 -> 2.70."""
    holes = [f for f in inspected("redpoll", "screw-guide").findings if f.check == "jig/hole"]
    assert len(holes) == 4
    assert {round(f.more["drill"], 4) for f in holes} == {round(4.5 * 2 / 3 * 0.9, 4)}
    assert {round(f.more["width"], 2) for f in holes} == {3.10}  # 0.2 of fit a side


def test_the_head_s_guide_lies_along_an_angled_face() -> None:
    """garganey, 10 degrees: turned for printing, the guide is as long as the head's face, not as its plan."""
    (piece,) = made("garganey", "tuner-guide").printed
    box = piece.part.solid.BoundingBox()
    length = max(box.xlen, box.ylen)
    lean = 6.0 * math.tan(math.radians(10))  # the head's end is upright on the neck, and the lip with it
    assert length == pytest.approx(190.0 + 4.0 + 0.2 + lean, abs=0.02)
    assert box.zlen == pytest.approx(10.0 + 6.0, abs=1e-3)


def test_on_a_small_bed_the_head_s_guide_comes_in_two_pieces() -> None:
    jig = made("redpoll", "tuner-guide", "workshop.printer.bed=[160, 160, 200]")
    found = inspected("redpoll", "tuner-guide", "workshop.printer.bed=[160, 160, 200]")
    assert [piece.part.name for piece in jig.printed] == ["jig-tuner-guide-1", "jig-tuner-guide-2"]
    assert found.passed
    assert found["jig/joints"].more["volume_off"] < 1e-6
