"""Slotted heads as solids: what is taken out, against closed forms, and where it lies."""

from __future__ import annotations

import math
from functools import cache

import pytest
from slot_samples import PLOVER, RAMP, laid_out, slots_of

from neckmodel.layout.hardware.slots import in_frame
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import probe, volume
from neckmodel.solids.parts import Parts


@cache
def built(*sets: str, text: str = PLOVER) -> Parts:
    return build(laid_out(*sets, text=text))


def test_the_wood_taken_out_by_slots_and_bores() -> None:
    """Two slots 120 x 15 with round ends, 20 thick; in each cheek and in the core six bores of 10. The bores' outer
    ends lie aslant in the head's side, so their middles count: the half width over each axis, less the slot's outer
    wall."""
    layout, parts = laid_out(text=PLOVER.replace(RAMP, "")), built(text=PLOVER.replace(RAMP, ""))
    pair = slots_of(layout)
    slots = 2 * 20.0 * (105.0 * 15.0 + math.pi * 7.5**2)
    cheeks = [layout.outside.half_width(one.middle[0]) - pair.outer for one in pair.rollers]
    bores = math.pi * 5.0**2 * (sum(cheeks) + 6 * 6.0)
    taken = volume(parts.carved) - volume(parts["neck"].solid)
    assert taken == pytest.approx(slots + bores, rel=1e-4)


def test_where_there_is_wood_and_where_there_is_none() -> None:
    layout, parts = laid_out(), built()
    pair, there = slots_of(layout), probe(parts["neck"].solid)

    def wood(along: float, y: float, over: float) -> bool:
        return there(*in_frame(layout.head, along, y, over))

    assert not wood(-100.0, pair.middle, -10.0)
    assert wood(-100.0, pair.inner - 0.2, -10.0)
    assert wood(-100.0, pair.outer + 0.2, -10.0)
    assert not wood(-45.0, pair.inner - 5.8, -10.0)  # the bore goes 6 into the core
    assert wood(-45.0, pair.inner - 6.2, -10.0)
    assert not wood(-45.0, -30.0, -10.0)  # and through the cheek
    fall = math.tan(math.radians(20.0))
    for along in (-20.0, -29.0, -34.0):  # the ramp, also through the slot's round end
        deep = (-16.0 - along) * fall
        assert not wood(along, pair.outer - 0.2, -deep + 0.1)
        assert wood(along, pair.outer - 0.2, -deep - 0.1)
    assert wood(-15.0, pair.middle, -0.2)


def test_a_left_hand_is_the_mirror_image() -> None:
    right, left = built(), built("design.hand=left")
    assert volume(left["neck"].solid) == pytest.approx(volume(right["neck"].solid), rel=1e-9)
    one, other = (parts["tuner-1"].solid.Center().y for parts in (right, left))
    assert one < 0 < other
    assert one == pytest.approx(-other)


def test_rollers_fill_their_holes() -> None:
    parts, pair = built(), slots_of(laid_out())
    roller = parts["tuner-1"].solid.BoundingBox()
    assert roller.ymax == pytest.approx(-(pair.inner - 6.0), abs=1e-6)
    assert parts["tuner-1"].kind == "hardware"
