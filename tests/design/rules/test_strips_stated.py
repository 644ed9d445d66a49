"""A board of strips: how it is said, what follows from it, and what is refused."""

from __future__ import annotations

import tomllib

import jsonschema
import pytest
from strip_samples import SISKIN, design, strips

from neckmodel.design import changed, read
from neckmodel.design.schema import json_schema
from neckmodel.errors import DesignError


def refused(*overrides: str, text: str = SISKIN) -> str:
    with pytest.raises(DesignError) as found:
        design(*overrides, text=text)
    return str(found.value)


def test_the_boards_width_and_the_necks_wood_follow_from_its_strips() -> None:
    found = design()
    assert found.board is not None
    assert (found.board.width, found.neck.wood) == (65.0, "sugar maple")
    widest = design(strips((10.0, "ash"), (40.0, "walnut"), (15.0, "ash")))
    assert widest.neck.wood == "walnut"
    assert design(strips((32.5, "cherry"), (32.5, "ash"))).neck.wood == "cherry"  # the first of two alike
    assert design("neck.wood=mahogany").neck.wood == "mahogany"


def test_widths_in_inches_add_up() -> None:
    inches = strips((1.0, "maple"), (0.125, "walnut"), (1.0, "maple"))
    text = SISKIN.replace('name = "siskin"', 'name = "siskin"\nunits = "mm"')
    stated = inches.replace("1.0,", '"1 in",').replace("0.125,", '"1/8 in",')
    board = design(stated, text=text).board
    assert board is not None
    assert board.width == pytest.approx(2.125 * 25.4)
    assert board.seams == pytest.approx((-1 / 16 * 25.4, 1 / 16 * 25.4))


@pytest.mark.parametrize(
    ("override", "says"),
    [
        (
            "board.width=66",
            "--set: board.width = 66: is not what its strips come to, 65 mm; allowed is 65 mm; leave board.width out, "
            "or change a strip",
        ),
        (
            "board.strips.1.width=0.4",
            "--set: board.strips[1].width = 0.4: is too small; allowed are 0.5 to 300 mm; if it is meant in inches, "
            'try "0.4 in"',
        ),
        (
            'board.strips=[{width = 65.0, wood = "maple"}]',
            '--set: board.strips = [{width = 65.0, wood = "maple"}]: has 1 item; allowed are 2 to 40',
        ),
        (
            "board.strips.0.wide=3",
            '--set: board.strips[0].wide = 3: is an unknown key; did you mean "width"?',
        ),
    ],
)
def test_what_does_not_add_up_is_refused_in_one_sentence(override: str, says: str) -> None:
    assert refused(override) == says


def test_a_veneer_of_half_a_millimetre_is_a_strip() -> None:
    board = design("board.strips.1.width=0.5").board
    assert board is not None
    assert board.strips[1].width == 0.5


def test_truing_a_rough_board_must_leave_its_outer_strips() -> None:
    thin = strips((1.6, "walnut"), (62.0, "maple"), (1.6, "walnut"))
    said = refused(thin, "board.surface=rough")
    assert "board.strips[0].width = 1.6: is planed away: truing a rough board takes 1.5 mm off each edge" in said
    assert said.count("is planed away") == 2
    assert design(thin).board is not None


def test_a_board_needs_its_width_or_its_strips() -> None:
    text = SISKIN[: SISKIN.index("strips = [")]
    assert "board.width: is missing" in refused(text=text)
    validator = jsonschema.Draft202012Validator(json_schema())
    assert not [*validator.iter_errors(tomllib.loads(SISKIN))]
    assert [*validator.iter_errors(tomllib.loads(text))]


def test_strips_set_over_a_stated_width_take_its_place() -> None:
    """redpoll states a width of 65; its strips come to 63, and one of them changed to 64."""
    found = changed(read("redpoll"), [strips((30.0, "maple"), (3.0, "walnut"), (30.0, "maple"))])
    assert found.board is not None
    assert found.board.width == 63.0
    wider = changed(found, ["board.strips.1.width=4"])
    assert wider.board is not None
    assert wider.board.width == 64.0


def test_a_design_without_strips_is_what_it_was() -> None:
    """Keys that came later leave a design's content alone where they are left out."""
    first = read("redpoll")
    assert first.board is not None
    assert first.board.strips == ()
    again = changed(first, ["limits.stock_seams=0.5"])
    assert again.sha256 == first.sha256
    assert changed(first, ["limits.stock_seams=0.6"]).sha256 != first.sha256
