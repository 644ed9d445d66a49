"""The way of an adjusting key: pieces against the closed forms, and every position within the pieces."""

from __future__ import annotations

import math

import manifold3d
import numpy as np
import pytest

from neckmodel.checks.measure.key import BentKey, StraightKey, bent_sweep, collisions, placed, straight_sweep
from neckmodel.layout.key.hexagon import swing_half_width

# a 4 mm hex key, 4.53 across corners (ISO 2936, from memory: 4.53 is the least e of size 4)
KEY = BentKey(across=4.53, in_socket=27.0, upright=74.0)
SWING = math.radians(37.5)


def half_width_at(pieces, height):
    cuts = [piece.slice(height) for piece in pieces]
    boxes = [cut.bounds() for cut in cuts if not cut.is_empty()]
    return max(max(-box[1], box[3]) for box in boxes)


@pytest.mark.parametrize("height", [7.0, 12.0, 25.0])
@pytest.mark.parametrize("step", [10.0, 5.0, 2.5, 1.0])
def test_swept_half_width_is_the_closed_form(height, step):
    pieces = bent_sweep(KEY, SWING, 7.0, math.radians(step))
    assert half_width_at(pieces, height) == pytest.approx(
        swing_half_width(height, math.degrees(2 * SWING), 4.53), abs=1e-4
    )


@pytest.mark.parametrize(("height", "width"), [(6.0, 6.079), (8.0, 7.234), (12.0, 9.544)])
def test_closed_form_at_thirty_degrees(height, width):
    """tan 30 = 1/sqrt 3 and 1/cos 30 = 2/sqrt 3, so that the half width is (h + across)/sqrt 3."""
    assert swing_half_width(height, 60.0, 4.53) == pytest.approx((height + 4.53) / math.sqrt(3), rel=1e-12)
    assert swing_half_width(height, 60.0, 4.53) == pytest.approx(width, abs=1e-3)


@pytest.mark.parametrize("seed", range(8))
def test_every_position_lies_within_the_pieces(seed):
    """At any angle, and drawn out to any length at the middle and both ends; the far corners' arc included."""
    rng = np.random.default_rng(seed)
    angle, out = rng.uniform(-SWING, SWING), 0.0
    if seed % 2:
        angle, out = (-SWING, 0.0, SWING)[seed // 2 % 3], rng.uniform(0, 7)
    half = KEY.across / 2
    key = manifold3d.Manifold.cube((KEY.across, KEY.across, KEY.upright - half)).translate((-KEY.in_socket, -half, 0.0))
    key += manifold3d.Manifold.cylinder(KEY.in_socket, half, circular_segments=6).rotate((0, -90, 0))
    left = key.rotate((math.degrees(angle), 0, 0)).translate((-out, 0, 0))
    for piece in bent_sweep(KEY, SWING, 7.0):
        left -= piece
    assert left.volume() < 1e-6 * key.volume()
    assert key.volume() > 1000


def slotted(half_width, height=7.0):
    """A block whose top is `height` above the key's axis, with a slot of the given half width, open below the axis."""
    solid = manifold3d.Manifold.cube((40, 60, 30)).translate((-45, -30, height - 30))
    return solid - manifold3d.Manifold.cube((60, 2 * half_width, 60)).translate((-60, -half_width, -30))


def test_the_smallest_slot_that_clears_is_the_closed_form():
    pieces = bent_sweep(KEY, SWING, 7.0)
    needed = swing_half_width(7.0, math.degrees(2 * SWING), 4.53)
    assert collisions(pieces, {"neck": slotted(needed + 1e-3)}) == []
    (found,) = collisions(pieces, {"neck": slotted(needed - 1e-2)})
    assert found.name == "neck"
    assert abs(found.at[1]) == pytest.approx(needed, abs=0.05)
    # the slot cuts the key where it stands widest: at the block's top
    assert found.at[2] == pytest.approx(7.0, abs=0.05)


def test_collisions_name_the_worst_first():
    pieces = bent_sweep(KEY, SWING, 7.0)
    string = manifold3d.Manifold.cylinder(600, 0.5, circular_segments=16).rotate((0, 90, 0)).translate((-300, 3.6, 20))
    far = manifold3d.Manifold.cube((5, 5, 5)).translate((200, 0, 0))
    found = collisions(pieces, {"string-3": string, "neck": slotted(5.0), "nut": far})
    assert [one.name for one in found] == ["neck", "string-3"]
    assert found[0].volume > found[1].volume > 0


def test_straight_key_clears_a_bore_of_its_corners():
    key = StraightKey(across=4.53, length=190.0, handle_diameter=20.0, handle_length=80.0)
    pieces = straight_sweep(key, withdraw=10.0)

    def bore(radius, x0, x1):
        tube = manifold3d.Manifold.cube((x1 - x0, 60, 60)).translate((x0, -30, -30))
        hole = manifold3d.Manifold.cylinder(x1 - x0 + 2, radius, circular_segments=256).rotate((0, 90, 0))
        return tube - hole.translate((x0 - 1, 0, 0))

    assert collisions(pieces, {"neck": bore(4.53 / 2 + 0.01, -100, 0)}) == []
    assert [one.name for one in collisions(pieces, {"neck": bore(4.53 / 2 - 0.01, -100, 0)})] == ["neck"]
    # the handle starts 110 from the tip, and where the key has been drawn out it reaches from there to 200
    assert collisions(pieces, {"head": bore(4.0, -109, -90)}) == []
    assert [one.name for one in collisions(pieces, {"head": bore(9.0, -112, -111)})] == ["head"]
    assert [one.name for one in collisions(pieces, {"head": bore(9.0, -199.5, -199)})] == ["head"]
    assert collisions(pieces, {"head": bore(9.0, -203, -201)}) == []


@pytest.mark.parametrize("outward", [(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)])
def test_placed_keeps_the_tip_the_length_and_the_upright(outward):
    tip = (12.0, 0.0, -4.9)
    pieces = placed(bent_sweep(KEY, SWING, 0.0), tip, outward)
    boxes = np.array([piece.bounding_box() for piece in pieces])
    low, high = boxes[:, :3].min(axis=0), boxes[:, 3:].max(axis=0)
    far = tip[0] + outward[0] * KEY.in_socket
    assert (low[0], high[0]) == pytest.approx((min(tip[0], far), max(tip[0], far)), abs=1e-9)
    assert high[2] == pytest.approx(tip[2] + 74 - 4.53 / 2, rel=2e-3)
    assert low[2] > tip[2] - 3
    assert all(piece.volume() > 0 for piece in pieces)


def test_placed_along_a_rising_axis():
    rise = math.radians(15)
    outward = (-math.cos(rise), 0.0, math.sin(rise))
    pieces = placed(straight_sweep(StraightKey(5.0, 100.0), 0.0), (10.0, 0.0, -5.0), outward)
    box = np.asarray(pieces[0].bounding_box())
    assert box[0] == pytest.approx(10 - 100 * math.cos(rise) - 2.5 * math.sin(rise), abs=0.01)
    assert box[5] == pytest.approx(-5 + 100 * math.sin(rise) + 2.5 * math.cos(rise), abs=0.01)
