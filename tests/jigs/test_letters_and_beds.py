"""Letters, joints and beds, without the kernel: closed forms and small cases."""

from __future__ import annotations

import itertools
import math

import pytest

from neckmodel.jigs.beds import lay_on_beds
from neckmodel.jigs.letters import STROKES, lines_for, outlines, plain
from neckmodel.jigs.split import FLANK, REACH, ROOT, WIDEST, dovetail, joint_places
from neckmodel.jigs.types import JigError
from neckmodel.limits import LEAST_LETTER


def test_every_letter_and_digit_is_drawn_and_none_twice_alike() -> None:
    assert set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-/.") <= set(STROKES)
    assert len(set(STROKES.values())) == len(STROKES)


def test_strokes_are_level_upright_or_at_45_degrees() -> None:
    for sign, strokes in STROKES.items():
        for stroke in strokes:
            for (x0, y0), (x1, y1) in itertools.pairwise(stroke):
                assert x0 == x1 or y0 == y1 or abs(x1 - x0) == abs(y1 - y0), sign


def test_the_letter_i_has_the_area_of_its_strokes() -> None:
    """Height 6, stroke 0.8: an upright of 6.8, two serifs of 2.8, less the two squares where they cross."""
    (shape,) = outlines(["I"], 6.0, 0.8)
    assert shape.area == pytest.approx(0.8 * (6.8 + 2 * 2.8) - 2 * 0.8**2, abs=1e-6)
    assert shape.centroid.x == pytest.approx(0, abs=1e-9)


def test_text_in_the_letters_there_are() -> None:
    assert plain("  Straßen-Büro  N_5 ") == "STRASSEN-BURO N-5"


def test_lines_fill_the_room_and_drop_the_last_words_first() -> None:
    lines, height = lines_for(("redpoll", "routing-template", "run", "1/3"), 100, 25)
    assert " ".join(lines).replace("- ", "-").split()[-2:] == ["RUN", "1/3"]
    assert height >= LEAST_LETTER
    assert lines_for(("redpoll", "caul", "up"), 40, 8) == (("REDPOLL",), pytest.approx(6 * 8 / 9))


def test_a_key_is_a_trapezium_and_its_fit_goes_all_round() -> None:
    slope = math.tan(math.radians(FLANK))
    (x0, y0), (x1, y1), _, _ = dovetail((0, 0))
    assert (y0, y1) == pytest.approx((-ROOT / 2, -ROOT / 2 - REACH * slope))
    (gx0, gy0), (gx1, gy1), _, _ = dovetail((0, 0), 0.2)
    across = (y0 - gy0) * math.cos(math.radians(FLANK))  # of the flank, square to it
    assert (x0, gx0, x1) == (0, 0, REACH)
    assert across == pytest.approx(0.2)
    assert gx1 - x1 == pytest.approx(0.2)
    assert gy0 - gy1 == pytest.approx((REACH + 0.2) * slope)
    assert pytest.approx(-2 * y1) == WIDEST


@pytest.mark.parametrize("bed", [180.0, 220.0, 256.0])
def test_pieces_with_their_keys_are_no_longer_than_the_bed_allows(bed: float) -> None:
    avoid = [(150.0, 171.0), (240.0, 262.0), (390.0, 402.0)]
    places = joint_places(-70.0, 510.0, bed, avoid)
    ends = [-70.0, *places, 510.0]
    for k, (a, b) in enumerate(itertools.pairwise(ends)):
        assert b - a + (REACH if k < len(places) else 0) <= bed - 10 + 1e-9
    assert not any(low < x + REACH and x < high for x in places for low, high in avoid)
    assert len(places) == {180.0: 3, 220.0: 2, 256.0: 2}[bed]


def test_no_joint_where_the_whole_length_is_taken() -> None:
    with pytest.raises(JigError, match="no place for a joint"):
        joint_places(0.0, 500.0, 220.0, [(0.0, 500.0)])


def test_a_piece_that_only_fits_across_is_turned_and_a_larger_one_refused() -> None:
    spots = lay_on_beds([("long", 30.0, 205.0, 10.0), ("wide", 205.0, 30.0, 10.0)], (250.0, 180.0, 200.0))
    assert (spots["long"].turned, spots["wide"].turned) == (True, False)
    assert {spot.bed for spot in spots.values()} == {1}
    with pytest.raises(JigError, match=r"larger than the printer's bed .*workshop\.printer\.bed"):
        lay_on_beds([("long", 300.0, 30.0, 10.0)], (220.0, 220.0, 200.0))
