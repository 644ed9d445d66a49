"""The plan of the board by closed forms: kerf between pieces, nothing turned, what is missing, what is left."""

from __future__ import annotations

import itertools
import random

import pytest
from neck_runs import findings_of, laid_out

from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.workshop.board import KEPT, BoardPlan, Sawn, place_pieces, plan_board
from neckmodel.lengths import in_unit
from neckmodel.sheets import draw

BOARD = Sawn("board", 0.0, 0.0, 1000.0, 100.0, 30.0)


def piece(name: str, length: float, width: float, thickness: float = 30.0) -> Sawn:
    return Sawn(name, 0.0, 0.0, length, width, thickness)


def places(plan: BoardPlan) -> dict[str, tuple[float, float]]:
    return {p.name: (p.from_end, p.from_edge) for p in plan.pieces}


def test_one_piece_leaves_what_lies_beyond_and_beside_it_less_a_kerf() -> None:
    """1000 - 700 - 3 beyond over the whole width, which is the larger way to cut; 100 - 60 - 3 beside."""
    plan = place_pieces(BOARD, [piece("blank", 700, 60)], 3.0)
    assert places(plan) == {"blank": (0.0, 0.0)}
    assert [(o.from_end, o.from_edge, o.length, o.width) for o in plan.offcuts] == [
        (0.0, 63.0, 1000.0, 37.0),  # ripped first: 37000 mm2 against 297 x 100
        (703.0, 0.0, 297.0, 60.0),
    ]
    assert {o.thickness for o in plan.offcuts} == {30.0}


def test_pieces_lie_end_to_end_or_side_by_side_and_a_kerf_apart() -> None:
    wanted = [
        piece("blank", 700, 60),
        piece("heel-block-1", 120, 60),
        piece("wing-1", 200, 37),
        piece("wing-2", 200, 37),
    ]
    plan = place_pieces(BOARD, wanted, 3.0)
    assert places(plan) == {
        "blank": (0.0, 0.0),
        "heel-block-1": (703.0, 0.0),  # the smaller rest, 297 x 60, holds it and leaves the long strip whole
        "wing-1": (0.0, 63.0),
        "wing-2": (203.0, 63.0),
    }
    assert plan.missing == ()
    assert [(o.from_end, o.length, o.width) for o in plan.offcuts] == [(406.0, 594.0, 37.0), (826.0, 174.0, 60.0)]


def test_nothing_is_turned_across_the_grain() -> None:
    """A piece 101 wide and 90 long would lie on the board only if turned."""
    plan = place_pieces(BOARD, [piece("blank", 90, 101)], 3.0)
    assert plan.pieces == ()
    assert [p.name for p in plan.missing] == ["blank"]
    assert plan.offcuts == ()  # nothing is sawn


def test_a_thicker_piece_has_no_place() -> None:
    plan = place_pieces(BOARD, [piece("blank", 700, 60), piece("wing-1", 100, 20, 30.1)], 3.0)
    assert [p.name for p in plan.missing] == ["wing-1"]


@pytest.mark.parametrize("seed", range(40))
def test_pieces_and_offcuts_lie_on_the_board_and_keep_a_kerf(seed: int) -> None:
    pick = random.Random(seed)
    kerf = pick.choice([1.0, 2.5, 4.0])
    wanted = [piece("blank", pick.uniform(300, 990), pick.uniform(30, 99))]
    wanted += [piece(f"wing-{k}", pick.uniform(60, 300), pick.uniform(10, 60)) for k in range(pick.randint(0, 6))]
    plan = place_pieces(BOARD, wanted, kerf)
    assert {p.name for p in (*plan.pieces, *plan.missing)} == {p.name for p in wanted}
    lying = (*plan.pieces, *plan.offcuts)
    for a in lying:
        assert min(a.from_end, a.from_edge) >= 0
        assert a.from_end + a.length <= 1000 + 1e-6
        assert a.from_edge + a.width <= 100 + 1e-6
    for a, b in itertools.combinations(lying, 2):
        along = max(a.from_end - b.from_end - b.length, b.from_end - a.from_end - a.length)
        aside = max(a.from_edge - b.from_edge - b.width, b.from_edge - a.from_edge - a.width)
        assert max(along, aside) >= kerf - 1e-6
    assert all(o.length >= KEPT[0] - 1e-6 and o.width >= KEPT[1] - 1e-6 for o in plan.offcuts)


def test_heel_blocks_that_have_no_room_and_the_board_that_has() -> None:
    """wheatear: 569.91 for shaft and head piece, then three blocks of 84.00, 104.00 and 124.00 one after the other."""
    plan = plan_board(laid_out("wheatear"))
    assert plan is not None
    assert [p.name for p in plan.missing] == ["heel-block-1", "heel-block-2", "heel-block-3"]
    need = plan.pieces[0].length + sum(p.length + 3.0 for p in plan.missing)
    assert plan.longer_by == pytest.approx(need - 600, abs=2e-3)
    assert plan.wider_by == pytest.approx(61 + 3 + 61 - 62, abs=2e-3)  # all three behind each other beside it: 318
    for key, by in (("length", plan.longer_by), ("width", plan.wider_by)):
        size = getattr(laid_out("wheatear").design.board, key) + by
        larger = plan_board(laid_out("wheatear", f"board.{key}={size}"))
        assert larger is not None
        assert larger.missing == ()


def test_json_tells_the_plan() -> None:
    """dunnock: 180 + 6 + 567.24 + 2 x 10 long on 900; 900 less that and a kerf of 3 is left over 65 of width."""
    told = layout_json(laid_out("dunnock"))["board"]
    assert told["pieces"][0]["length"] == pytest.approx(773.24, abs=0.005)
    (offcut,) = told["offcuts"]
    assert (offcut["length"], offcut["width"]) == pytest.approx((900 - 773.24 - 3, 65), abs=0.005)
    assert told["missing"] == []


def test_sheet_and_finding_say_what_has_no_room() -> None:
    pages = draw("board", laid_out("wheatear"), None, ["A4"])[0].pages
    said = " ".join(text.says for page in pages for text in page.texts())
    assert "No room on this board" in said
    assert "heel block 3" in said
    (found,) = [f for f in findings_of("check_stock", "wheatear") if f.check == "stock/pieces"]
    assert found.verdict == "warn"
    assert found.measured == pytest.approx(-63, abs=2e-3)
    assert found.remedy is not None
    assert found.remedy.set == {
        "board.length": 900.0
    }  # 890.91 would just do; lengths of boards are told in steps of 10
    for enough in ("board.length=900", "board.width=125"):
        mended = findings_of("check_stock", "wheatear", enough)
        assert [f.verdict for f in mended if f.check == "stock/pieces"] == ["pass"]


@pytest.mark.parametrize(
    ("thickness", "says", "in_inches"),
    [
        (24.0, "nothing in thickness", "nothing in thickness"),
        (24.003, "less than 0.01 mm in thickness", "less than 0.0004 in in thickness"),
        (24.01, "0.01 mm in thickness", "0.0004 in in thickness"),
        (23.997, "is less than 0.01 mm too large for", "is less than 0.0004 in too large for"),
    ],
)
def test_what_a_board_spares_or_lacks_is_never_a_nought_that_is_none(
    thickness: float, says: str, in_inches: str
) -> None:
    """The blank is 24.00 high: the head's step of 10 and its 14."""
    (found,) = [
        f for f in findings_of("check_stock", "redpoll", f"board.thickness={thickness}") if f.check[6:] == "size"
    ]
    assert says in found.says
    assert in_inches in in_unit(found.says, "in")
    assert "0.00 mm" not in found.says
    assert "0.000 in" not in in_unit(found.says, "in")
