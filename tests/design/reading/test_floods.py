"""A flood of mistakes makes work that grows as the file does, and no faster; counted, not timed."""

from __future__ import annotations

from pathlib import Path
from typing import Any, cast

import pytest
from effort import calls

from neckmodel.design import read_text
from neckmodel.design.design import Design
from neckmodel.design.file.source import Source
from neckmodel.design.reading.messages import MOST_SHOWN, problems_of
from neckmodel.errors import DesignError

BASE = Path(__file__).with_name("siskin.toml").read_text(encoding="utf-8")
MANY = 20_000


def sections(count: int) -> str:
    return BASE + "".join(f"[s{n}]\n" for n in range(count))


def keys(count: int) -> str:
    return BASE.replace("frets = 22", "frets = 22\n" + "".join(f"x{n} = 1\n" for n in range(count)))


def refused(text: str) -> DesignError:
    with pytest.raises(DesignError) as caught:
        read_text(text, "siskin.toml")
    return caught.value


@pytest.mark.parametrize("flood", [sections, keys])
def test_four_times_the_mistakes_make_at_most_five_times_the_work(flood: Any) -> None:
    few, many = (calls(lambda count=count: refused(flood(count))) for count in (MANY // 4, MANY))  # type: ignore[misc]
    assert many < 5 * few
    assert many < 10_000_000  # what each was meant to be is looked for in the few that are shown


class Name(str):
    """A key that counts how often it is held against another: what a search through a list does unseen."""

    __slots__ = ()
    compared = 0

    def __eq__(self, other: object) -> bool:
        Name.compared += 1
        return str.__eq__(self, cast(str, other))

    __hash__ = str.__hash__


def test_no_mistake_is_looked_for_among_all_the_others() -> None:
    class Flood:
        def errors(self, **_: object) -> list[dict[str, Any]]:
            return [{"type": "extra_forbidden", "loc": (Name(f"s{n}"),), "input": {}} for n in range(3000)]

    source = Source("siskin.toml", sections(3000), {f"s{n}": {} for n in range(3000)})
    Name.compared = 0
    assert len(problems_of(cast(Any, Flood()), source, Design)) == 3000
    assert Name.compared < 100 * 3000  # each against each would be four and a half million


@pytest.mark.parametrize("flood", [sections, keys])
def test_the_first_by_line_are_told_and_the_rest_is_counted(flood: Any) -> None:
    problems = refused(flood(MANY)).problems
    assert len(problems) == MOST_SHOWN + 1
    assert [problem.line for problem in problems[:-1]] == sorted(problem.line or 0 for problem in problems[:-1])
    assert all(problem.says.startswith("is an unknown") for problem in problems[:-1])
    assert problems[-1].says == f"has {MANY - MOST_SHOWN} more mistakes"
