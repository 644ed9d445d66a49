"""Each broken drawing gives one clear message about the key that names it, after little work, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from effort import calls
from ends_samples import dxf, plain_head, polyline, with_drawing
from hostile_drawings import CASES, Hostile

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out

MOST_CALLS = 10_000_000  # the largest takes 2.5 million; one that makes work without end takes many times this


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_hostile_drawing_is_refused_in_words(case: Hostile, tmp_path: Path) -> None:
    design = with_drawing(tmp_path, case.data, case.file)
    with pytest.raises(DesignError) as caught:
        lay_out(design)
    (problem,) = caught.value.problems
    assert problem.key in ("head.outline", "head.outline.file")
    assert problem.line
    assert re.search(case.says, problem.says)
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 500


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_hostile_drawing_makes_little_work(case: Hostile, tmp_path: Path) -> None:
    design = with_drawing(tmp_path, case.data, case.file)

    def refused() -> None:
        with pytest.raises(DesignError):
            lay_out(design)

    assert calls(refused) < MOST_CALLS


def test_there_are_at_least_forty_of_them() -> None:
    assert len({case.name for case in CASES}) == len(CASES) >= 40


@pytest.mark.parametrize("name", ["missing.dxf", "folder.dxf", "../../../../etc/passwd", "a\\u0000b.svg"])
def test_a_file_that_cannot_be_opened(name: str, tmp_path: Path) -> None:
    (tmp_path / "folder.dxf").mkdir()
    head = f'[head]\noutline = {{file = "{name}"}}\n'
    with pytest.raises(DesignError, match=r"no such file|not a file|neither|cannot be opened|cannot be printed"):
        lay_out(with_drawing(tmp_path, dxf(polyline(plain_head())), "other.dxf", head))
