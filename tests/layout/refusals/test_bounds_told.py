"""What a refusal allows is itself allowed: bounds are told to 0.01 mm, rounded to the side that keeps them."""

from __future__ import annotations

import re

import pytest
from neck_runs import laid_out

from neckmodel.errors import DesignError
from neckmodel.lengths import no_less, no_more, rounded_down, rounded_up


def test_bounds_are_rounded_to_their_own_side() -> None:
    assert (no_less(12.341), no_more(12.349)) == ("12.35 mm", "12.34 mm")
    assert (no_less(12.34), no_more(12.34)) == ("12.34 mm", "12.34 mm")
    assert no_less(0.1 + 0.2) == no_more(0.1 + 0.2) == "0.30 mm"  # 0.30000000000000004
    assert (rounded_up(-1.234), rounded_down(-1.234)) == (-1.23, -1.24)
    assert rounded_up(101.0, 25.0) == 125.0


@pytest.mark.parametrize(
    ("preset", "overrides", "key"),
    [
        # fret 14 of a scale of 642 lies at 356.0215: told as 356.02, it would be refused again
        ("wheatear", ("heel.wood_ends_at=356.02",), "heel.wood_ends_at"),
        # half the heel's end, by a fretboard that widens: no round number
        ("redpoll", ("heel.corner_radius=40",), "heel.corner_radius"),
        ("redpoll", ("head.swell_length=5",), "head.swell_length"),
        ("redpoll", ("rod.adjuster.axis_below_top=14",), "rod.adjuster.axis_below_top"),
        ("redpoll", ("neck.thickness.fret_1=12.1",), "heel.depth"),
        ("redpoll", ("heel.depth=12",), "heel.depth"),
        ("wheatear", ("head.thickness=6",), "head.thickness"),
        ("wheatear", ("heel.tenon.width=60",), "heel.tenon.width"),
        ("wheatear", ("adjusting_key.engaged_depth=7",), "adjusting_key.engaged_depth"),
    ],
)
def test_what_is_allowed_is_not_refused_for_the_same_reason(preset: str, overrides: tuple[str, ...], key: str) -> None:
    with pytest.raises(DesignError) as refused:
        laid_out(preset, *overrides)
    problem = next(problem for problem in refused.value.problems if problem.key == key)
    told = re.search(r"(at least|at most|more than|less than) (-?[\d.]+) mm", problem.allowed)
    if told is None:
        pytest.fail(f"no bound in {problem.allowed!r}")
    word, number = told[1], float(told[2])
    inside = {"more than": number + 0.001, "less than": number - 0.001}.get(word, number)
    try:
        laid_out(preset, *overrides, f"{key}={inside}")
    except DesignError as again:
        others = [(p.key, p.says) for p in again.problems]
        assert (key, problem.says) not in others
