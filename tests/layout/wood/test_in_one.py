"""A neck in one piece with its fretboard: what the file says, its blank, its estimates and its order of work."""

from __future__ import annotations

import pytest
from behind_samples import BEHIND, laid

from neckmodel.design import read, read_text
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.workshop.board import wanted_pieces
from neckmodel.presets import path_of
from neckmodel.strength.estimate import estimate
from neckmodel.work.order import order_of_work

IN_ONE = ("fretboard.in_one=true", "fretboard.wood=maple", "board.thickness=30")


def refused(*overrides: str) -> str:
    with pytest.raises(DesignError) as told:
        lay_out(read(path_of("redpoll"), overrides))
    return str(told.value)


def test_the_blank_is_as_high_as_neck_and_fretboard() -> None:
    layout, apart = laid(*IN_ONE), laid()
    assert max(z for _, z in layout.blank_profile) == 6.0
    assert min(z for _, z in layout.blank_profile) == min(z for _, z in apart.blank_profile)
    assert (0.0, 0.0) in layout.blank_profile  # the nut's seat is sawn down to z = 0
    assert wanted_pieces(layout)[0].thickness == pytest.approx(30.0)


def test_the_fretboards_wood_is_the_necks_own_unless_stated() -> None:
    text = path_of("redpoll").read_text(encoding="utf-8").replace('wood = "rosewood"\n', "in_one = true\n")
    design = read_text(text, "redpoll.toml", (*BEHIND, "board.thickness=30"))
    assert design.fretboard.wood == design.neck.wood == "maple"


def test_stiffness_counts_one_wood() -> None:
    one, apart = estimate(laid(*IN_ONE)), estimate(laid("fretboard.wood=maple"))
    assert one.relief.likely == pytest.approx(apart.relief.likely, rel=1e-12)
    assert {wood.name for wood in (*one.woods, one.fretboard)} == {"sugar maple", "black walnut"}


@pytest.mark.parametrize(
    ("overrides", "key"),
    [
        (IN_ONE, "fretboard.in_one"),  # a rod from the front
        ((*BEHIND, "fretboard.in_one=true"), "fretboard.wood"),  # rosewood on maple
        ((*BEHIND, *IN_ONE, "nut.seat=groove"), "nut.seat"),
        ((*BEHIND, *IN_ONE, "head.kind=scarfed", "head.scarf=on-ramp"), "head.scarf"),
        (
            (*BEHIND, *IN_ONE, "bars={count = 2, width = 4, height = 8, length = 300, from_nut = 8, offset = 9}"),
            "fretboard.in_one",
        ),
    ],
)
def test_what_does_not_go_with_it_is_refused(overrides: tuple[str, ...], key: str) -> None:
    assert f"{key}" in refused(*overrides)


def test_the_order_of_work_knows_no_seam() -> None:
    works = order_of_work(laid(*IN_ONE))
    text = " ".join([*(w.title for w in works), *(s for w in works for s in (*w.says, *w.checks))])
    assert "glue plane" not in text
    assert "Glue on the fretboard" not in text
    assert "lies 6.00 mm below it" in text
    titles = [work.title for work in works]
    carve = next(k for k, title in enumerate(titles) if "arve" in title)
    assert titles.index("Glue in the back strip") < titles.index("Shape the fretboard's face") < carve
