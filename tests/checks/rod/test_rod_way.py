"""Which way a two-way rod lies: what the axis is measured from, what a turn does, and what is drawn."""

from __future__ import annotations

import pytest
from kind_samples import SLOE, design, found_all, laid_out
from strength_samples import findings

from neckmodel.design import read
from neckmodel.errors import DesignError
from neckmodel.findings import PASS, WARN
from neckmodel.layout.json.layout import layout_json
from neckmodel.presets import path_of
from neckmodel.sheets.views.rod import two_bars
from neckmodel.strength.rod.rod import two_way_rod
from neckmodel.work.order import order_of_work

DOWN = SLOE.replace('kind = "two-way"', 'kind = "two-way"\nbar = "down"')
UP = SLOE.replace('kind = "two-way"', 'kind = "two-way"\nbar = "up"')
OVER = "rod.adjuster.axis_below_top=5.0"  # 9.2 high less 4.2


def test_turned_over_pocket_slot_and_key_follow() -> None:
    """Height 9.2, axis 4.2 and 5.0 deep as the rod lies, adjuster 7.0, deeper by 0.1, clearance 0.8: worked out by
    hand, to the digit printed. The slot's floor lies half a 4 mm key's corners, 4.53, and 0.5 under the axis."""
    lies, over = laid_out(DOWN), laid_out(UP, OVER)
    assert lies.rod is not None
    assert over.rod is not None
    assert [round(layout.step("adjuster").depth, 9) for layout in (lies, over)] == [8.2, 9.0]
    assert [round(layout.rod.axis, 9) for layout in (lies, over) if layout.rod is not None] == [4.3, 5.1]
    for layout in (lies, over):
        assert layout.rod is not None
        assert layout.key is not None
        assert layout.step("access-slot").depth == pytest.approx(layout.rod.axis + 4.53 / 2 + 0.5, abs=1e-9)
        assert layout.key.axis == layout.rod.axis
    assert [round(layout.step("run").depth, 9) for layout in (lies, over)] == [
        9.3,
        9.3,
    ]  # the rod is as high either way


@pytest.mark.parametrize(
    ("text", "overrides", "measured"),
    [(DOWN, (), 0.4), (UP, (OVER,), 0.4), (UP, (), -0.4), (DOWN, (OVER,), -0.4), (DOWN, ("rod.height=8.4",), 0.0)],
)
def test_the_thread_belongs_on_the_other_side(text: str, overrides: tuple[str, ...], measured: float) -> None:
    """Measured on the rod's own solid: of a round adjuster's mesh the middle is exact."""
    found = found_all(text, *overrides)["fit/rod-way"]
    assert found.measured == pytest.approx(measured, abs=1e-4)
    assert (found.limit, found.verdict) == (0.0, PASS if measured >= 0 else WARN)
    assert (found.remedy is None) == (measured >= 0)


def test_either_remedy_passes() -> None:
    found = found_all(UP)["fit/rod-way"]
    assert found.remedy is not None
    assert [dict(way.set) for way in found.remedy.ways] == [
        {"rod.bar": "down"},
        {"rod.adjuster.axis_below_top": 5.0},
    ]
    assert found.remedy.says == (
        "lay the rod with its flat bar down, or turn the rod over, so that its adjuster's axis lies 5 mm below its top"
    )
    assert found.says == (
        "the flat bar lies up, so the thread belongs below half the rod's height: its axis lies 0.40 mm above it; "
        "either the bar lies the other way, or the axis was measured with the rod turned over"
    )
    for overrides in (("rod.bar=down",), (OVER,)):
        assert found_all(UP, *overrides)["fit/rod-way"].verdict == PASS


def test_no_way_told_where_none_is_said() -> None:
    assert "fit/rod-way" not in found_all(SLOE)
    assert two_bars(laid_out(SLOE).rod) is None
    assert "bar" not in layout_json(laid_out(SLOE))["rod"]
    assert "flat bar lies" not in findings(laid_out(SLOE))["strength/rod"].says


def test_the_two_bars_are_drawn_as_they_lie() -> None:
    """The flat bar 3 mm thick at the face it lies at, 0.1 below the glue plane; the thread round the adjuster's axis;
    both as large as strength counts them."""
    down, up = two_bars(laid_out(DOWN).rod), two_bars(laid_out(UP, OVER).rod)
    assert down is not None
    assert up is not None
    assert (round(up.low, 9), round(up.high, 9), round(up.axis, 9)) == (-3.1, -0.1, -5.1)
    assert (round(down.low, 9), round(down.high, 9), round(down.axis, 9)) == (-9.3, -6.3, -4.3)
    rod = two_way_rod(laid_out(DOWN))
    assert rod is not None
    assert down.radius * 2 == 5.0  # M5 fits into what is left
    assert rod.spacing == pytest.approx(9.2 - 1.5 - 2.5, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "turn", "lies"),
    [
        (
            UP,
            "Its flat bar lies up: clockwise the adjuster shortens the thread and takes relief away, anticlockwise it "
            "adds relief",
            "its flat bar up, toward the fretboard",
        ),
        (
            DOWN,
            "Its flat bar lies down: clockwise the adjuster shortens the thread and adds relief, anticlockwise it "
            "takes it away",
            "its flat bar down, toward the back",
        ),
    ],
)
def test_what_a_turn_does_is_told(text: str, turn: str, lies: str) -> None:
    """A shorter thread draws its own side hollow: under the bar that bends the neck back."""
    assert turn in findings(laid_out(text))["strength/rod"].says
    said = {work.title: " ".join((*work.says, *work.checks)) for work in order_of_work(laid_out(text))}
    assert f"{turn} (common practice, a right-hand thread)." in said["String up, and set the relief"]
    assert "data sheet says which way" not in said["String up, and set the relief"]
    assert lies in said["Square the corners and try the parts"]
    assert lies in said["Glue on the fretboard"]
    assert "thin sleeve or wax" in said["Glue on the fretboard"]
    assert layout_json(laid_out(text))["rod"]["bar"] == ("up" if text is UP else "down")


def test_turns_are_as_many_either_way() -> None:
    """Which side is which changes no number of the strength."""
    up, down = (findings(laid_out(text))["strength/rod"].more for text in (UP, DOWN))
    assert up == down


@pytest.mark.parametrize("kind", ["one-way", "compression"])
def test_only_a_two_way_rod_lies_one_way_or_the_other(kind: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(UP.replace('kind = "two-way"', f'kind = "{kind}"\ndiameter = 5.0'))
    assert (
        f'rod.bar = "up": is stated of a {kind} rod, which goes in one way only; leave it out, or state rod.kind = '
        '"two-way"'
    ) in str(refused.value)


def test_it_is_part_of_the_design() -> None:
    assert design(UP).sha256 != design(DOWN).sha256 != design(SLOE).sha256
    assert read(path_of("redpoll"), ["rod.bar=down"]).rod is not None
