"""Trial blocks: the pockets by closed forms, and against the blank."""

from __future__ import annotations

import math

import pytest
from jig_runs import drafted, inspected
from neck_runs import laid_out

from neckmodel.solids.kernel.gate import volume

LARGE = "workshop.printer.bed=[250, 250, 200]"


def test_a_block_longer_than_the_bed_is_two_halves_that_share_75() -> None:
    """From 6 before the nut to the wood's end at 195: 201, and 200 is what the bed of 210 leaves."""
    nut, far = (piece.solid.BoundingBox() for piece in drafted("pipit", "trial-block").pieces)
    assert (nut.xlen, far.xlen) == (pytest.approx((201 + 75) / 2), pytest.approx((201 + 75) / 2))


def test_pipit_s_block_is_a_box_less_its_bar_s_channel() -> None:
    """Channel 6.1 x 9.1, square ends; the block starts 12 before it and ends with the wood; beside the channel it is 8
    wide on the bass side and 24 on the treble side, 4 deep under it. Its first mm lies on the head, whose face falls by
    12 degrees from x = -5."""
    (block,) = drafted("pipit", "trial-block", LARGE).pieces
    (bar,) = laid_out("pipit").steps
    length = min(bar.x_end + 12.0, laid_out("pipit").heel.x_end) - (bar.x_start - 12.0)
    width = 6.1 + 8.0 + 24.0
    head = 1.0 * math.tan(math.radians(12.0)) / 2 * width
    assert volume(block.solid) == pytest.approx(
        length * width * (9.1 + 4.0) - (bar.x_end - bar.x_start) * 6.1 * 9.1 - head, rel=1e-9
    )


def test_redpoll_s_blocks_show_both_ends_of_the_channel() -> None:
    """At the adjuster: slot 5.53 wide and 7.065 deep from the head line at -6 to 6, pocket 7.8 x 8.2 to 17, run 6.1 x
    9.3 for 75 more; the head's face 10 lower, 12 long. At the anchor: 75 of the run, its end at 428, 12 beyond."""
    at_adjuster, at_anchor = drafted("redpoll", "trial-block").pieces
    width, deep = 7.8 + 32.0, 10.0 + 4.0
    cut = 12 * 5.53 * 7.065 + 11 * 7.8 * 8.2 + 75 * 6.1 * 9.3
    assert volume(at_adjuster.solid) == pytest.approx(width * ((17 + 75 + 6) * deep + 12 * 4) - cut, rel=1e-9)
    assert volume(at_anchor.solid) == pytest.approx(87 * 38.1 * 13.3 - 75 * 6.1 * 9.3, rel=1e-9)


def test_the_pocket_is_held_against_the_blank() -> None:
    found = inspected("dunnock", "trial-block")["jig/pocket"]
    assert found.measured is not None
    assert abs(found.measured) < 1e-3
