"""Views of a jig on pages: none missing, none over its room, and no page nearly empty where it need not be."""

from __future__ import annotations

from itertools import chain, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.sheets.jigs.packing import Room, Size, least_filled, pack

ROOM = Room(186.0, 120.0, 240.0, 5.0)  # a page of A4 upright, half of the first one taken by words
views = st.lists(st.tuples(st.integers(20, 186), st.integers(15, 235)), max_size=12)


def used(sizes: list[Size], page: tuple[tuple[int, ...], ...]) -> float:
    return sum(max(sizes[k][1] for k in row) + ROOM.between for row in page)


@given(views)
def test_every_view_has_one_place_within_its_page(sizes: list[Size]) -> None:
    pages = pack(sizes, (range(len(sizes)),), ROOM)
    assert sorted(chain(*chain(*pages))) == list(range(len(sizes)))
    for number, page in enumerate(pages):
        assert used(sizes, page) <= (ROOM.each if number else ROOM.first)
        assert page or not number
        for row in page:
            assert sum(sizes[k][0] + ROOM.between for k in row) - ROOM.between <= ROOM.width


@given(views)
def test_two_pages_that_would_go_on_one_are_one(sizes: list[Size]) -> None:
    pages = pack(sizes, (range(len(sizes)),), ROOM)
    for one, other in pairwise(pages[1:]):
        assert used(sizes, one) + used(sizes, other) > ROOM.each


@pytest.mark.parametrize(
    ("sizes", "pages", "least"),
    [
        # three rows of 105 and one of 45: none under the words, then two and two; in turn the last would stand alone
        ([(180.0, 100.0)] * 3 + [(180.0, 40.0)], 3, 150 / 240),
        # a small one finds room beside a large one, whatever stands between them
        ([(100.0, 200.0), (180.0, 100.0), (70.0, 150.0)], 2, 205 / 240),
        # under the words there is room for the small one alone, wherever it stands in turn
        ([(180.0, 200.0), (180.0, 60.0), (180.0, 200.0)], 3, 205 / 240),
    ],
)
def test_the_emptiest_page_is_as_full_as_it_can_be(sizes: list[Size], pages: int, least: float) -> None:
    packed = pack(sizes, (range(len(sizes)),), ROOM)
    assert len(packed) == pages
    assert least_filled(sizes, packed, ROOM) >= least - 1e-9
