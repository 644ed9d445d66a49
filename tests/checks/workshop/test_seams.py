"""stock/seams: slivers beside the channel's walls, and the strips that leave none."""

from __future__ import annotations

import pytest
from strip_samples import SISKIN, laid_out, strips

from neckmodel.checks.explain.checks import ABOUT
from neckmodel.checks.workshop.seams import check_seams
from neckmodel.design import read
from neckmodel.findings import PASS, WARN, Finding, ways_of
from neckmodel.layout import lay_out
from neckmodel.layout.wood.slivers import moved_clear, seams_beside

# the run is 6.1 wide, the adjuster's pocket 7.8, the access slot 5.53


def of(middle: float, *more: str) -> Finding:
    side = round((65 - middle) / 2, 4)
    (found,) = check_seams(laid_out(strips((side, "maple"), (middle, "walnut"), (side, "maple")), *more))
    return found


@pytest.mark.parametrize(
    ("middle", "verdict", "measured"),
    [
        (11.0, PASS, 1.6),  # 5.5 less the pocket's 3.9
        (8.8, PASS, 0.5),  # 4.4: a tie
        (8.78, WARN, 0.49),
        (8.0, WARN, 0.1),  # 0.1 beside the pocket; beside the run 0.95
        (7.9, PASS, 0.05),  # 0.05 beside the pocket: the seam lies on its wall
        (7.8, PASS, 0.0),
        (6.4, WARN, 0.15),  # beside the run; beside the access slot 0.435
        (6.1, WARN, 0.285),  # on the run's wall, beside the access slot
        (5.5, PASS, 0.0),  # inside the run and, but for a hair, the slot
    ],
)
def test_a_sliver_on_a_wall_is_warned_of(middle: float, verdict: str, measured: float) -> None:
    found = of(middle)
    assert (found.verdict, found.measured) == (verdict, pytest.approx(measured, abs=1e-4))


def test_a_seam_inside_the_channel_is_told_and_no_fault() -> None:
    """Two halves with the rod over their joint are usual."""
    (found,) = check_seams(laid_out(strips((32.5, "maple"), (32.5, "walnut"))))
    assert found.verdict == PASS
    assert found.says == "the seam at y 0.00 mm runs inside the run, adjuster and access slot"
    assert (found.measured, found.limit) == (None, None)


def test_a_sentence_names_every_wall() -> None:
    assert of(6.4).says == (
        "0.15 mm of a strip stays on each wall of the run, by the seams at y -3.20 mm and y 3.20 mm; 0.43 mm of a "
        "strip stays on each wall of the access slot, by the seams at y -3.20 mm and y 3.20 mm: so thin a strip breaks "
        "off under the cutter; the seam at y -3.20 mm runs inside the adjuster; the seam at y 3.20 mm runs inside the "
        "adjuster"
    )


def test_the_limit_is_the_designs() -> None:
    assert of(8.0, "limits.stock_seams=0.1").verdict == PASS
    assert of(11.0, "limits.stock_seams=1.7").verdict == WARN


@pytest.mark.parametrize("middle", [8.0, 8.78, 6.4, 6.1])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_way_of_its_remedy_leaves_no_sliver(middle: float, unit: str) -> None:
    found = of(middle)
    assert found.remedy is not None
    ways = ways_of(found.remedy)
    assert len(ways) == 2
    for way in (one for first in ways for one in (first, *first.finer)):
        sets = [f"{key}={value}" for key, value in way.set.items()]
        side = round((65 - middle) / 2, 4)
        new = laid_out(strips((side, "maple"), (middle, "walnut"), (side, "maple")), *sets)
        assert check_seams(new)[0].verdict == PASS
        assert new.design.board is not None
        assert new.design.board.width == pytest.approx(65.0, abs=1e-6), unit


def test_its_remedy_in_the_words_of_the_bench() -> None:
    found = of(8.0)
    assert found.remedy is not None
    assert found.remedy.says.startswith("plane strips 1 and 3 to 28 mm and strip 2 to 9 mm of width, or plane")


def test_only_a_board_of_strips_has_it() -> None:
    assert check_seams(lay_out(read("redpoll"))) == []
    text = SISKIN[: SISKIN.index("[rod]")] + SISKIN[SISKIN.index("[board]") :]
    bare = laid_out(text=text.replace("[neck]", '[neck]\nreinforcement = "none"'))
    assert check_seams(bare) == []  # no channel, no wall


@pytest.mark.parametrize(("y", "toward", "to"), [(3.2, 1, 3.55), (3.2, -1, 2.765), (4.0, 1, 4.4), (-4.0, -1, -4.4)])
def test_where_a_seam_comes_clear(y: float, toward: int, to: float) -> None:
    """3.2 lies 0.15 beside the run (3.05): outward 0.5 from it, within the pocket; inward on its wall, which
    is 0.285 beside the slot (2.765): so on the slot's wall."""
    steps = laid_out().steps
    assert moved_clear(y, steps, 0.5, toward) == pytest.approx(to, abs=1e-3)
    clear = moved_clear(y, steps, 0.5, toward)
    widths = (32.5 + min(y, -y), 2 * abs(clear), 10.0)
    assert widths[1] > 0
    assert not any(0.05 < abs(clear) - step.width / 2 < 0.5 - 1e-9 for step in steps)


def test_every_seam_is_held_against_every_step() -> None:
    layout = laid_out()
    assert len(seams_beside(layout.strips, layout.steps)) == 4 * len(layout.steps)


def test_explain_knows_it() -> None:
    (page,) = [entry for entry in ABOUT if entry.name == "stock/seams"]
    assert "0.5 mm" in page.limit
    assert page.source == "common practice, no source"
