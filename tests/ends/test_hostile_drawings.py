"""Each broken drawing gives one clear message about the key that names it, soon, and nothing else."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from ends_samples import dxf, plain_head, polyline, with_drawing
from hostile_drawings import CASES, Hostile

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out

SECONDS = 2.0  # of processor time, for reading and refusing


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_hostile_drawing_is_refused_in_words(case: Hostile, tmp_path: Path) -> None:
    design = with_drawing(tmp_path, case.data, case.file)
    began = time.process_time()
    with pytest.raises(DesignError) as caught:
        lay_out(design)
    assert time.process_time() - began < SECONDS
    (problem,) = caught.value.problems
    assert problem.key in ("head.outline", "head.outline.file")
    assert problem.line
    assert re.search(case.says, problem.says)
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 500


def test_there_are_at_least_forty_of_them() -> None:
    assert len({case.name for case in CASES}) == len(CASES) >= 40


@pytest.mark.parametrize("name", ["missing.dxf", "folder.dxf", "../../../../etc/passwd", "a\\u0000b.svg"])
def test_a_file_that_cannot_be_opened(name: str, tmp_path: Path) -> None:
    (tmp_path / "folder.dxf").mkdir()
    head = f'[head]\noutline = {{file = "{name}"}}\n'
    with pytest.raises(DesignError, match=r"no such file|not a file|neither|cannot be read|control"):
        lay_out(with_drawing(tmp_path, dxf(polyline(plain_head())), "other.dxf", head))
