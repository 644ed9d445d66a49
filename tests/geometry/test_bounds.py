"""Bounds of a range: against closed forms and another library's bisection; and that no other file halves a range."""

from __future__ import annotations

import ast
import math
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import bisect
from waiting import HANGS

import neckmodel
from neckmodel.geometry.bounds import CLOSE, nearest_enough, zero_of

PACKAGE = Path(neckmodel.__file__).resolve().parent

lengths = st.floats(-500, 500)


@given(lengths, lengths, st.floats(0.001, 1), st.sampled_from([CLOSE, 1e-6, 0.01]))
def test_the_nearest_value_that_is_enough_lies_just_past_the_bound(
    start: float, end: float, part: float, within: float
) -> None:
    """Up or down a range of some length: on the end's side of the bound, and no farther from it than was asked for."""
    bound, way = start + part * (end - start), math.copysign(1.0, end - start)
    found = nearest_enough(lambda value: way * value >= way * bound, start, end, within)
    if way * end < way * bound:  # by rounding alone
        assert found is None
        return
    assert found is not None
    assert -1e-12 <= way * (found - bound) <= within + 1e-12


def test_it_is_found_as_another_library_finds_it() -> None:
    """scipy's bisection, which takes the step's two sides as -1 and 1."""
    bound = 7.0 / 3.0
    theirs = bisect(lambda value: 1.0 if value >= bound else -1.0, 0.0, 12.0, xtol=1e-12)
    assert nearest_enough(lambda value: value >= bound, 0.0, 12.0) == pytest.approx(theirs, abs=2e-11)


def test_how_often_it_asks() -> None:
    """Once at the end, and once for each halving of 8 mm down to 1/64 mm; the start is not asked."""
    asked: list[float] = []
    found = nearest_enough(lambda value: bool(asked.append(value)) or value >= 2.3, 0.0, 8.0, 1 / 64)
    assert found == math.ceil(2.3 * 64) / 64
    assert asked[0] == 8.0
    assert len(asked) == 1 + 9
    assert 0.0 not in asked


def test_the_end_alone_or_nothing_is_enough() -> None:
    assert nearest_enough(lambda value: value >= 12.0, 0.0, 12.0) == 12.0
    assert nearest_enough(lambda value: value > 12.0, 0.0, 12.0) is None
    assert nearest_enough(lambda value: value <= 0.0, 12.0, 0.0) == 0.0
    assert nearest_enough(lambda _: True, 4.0, 4.0) == 4.0


def test_a_zero_by_closed_form_in_few_tries() -> None:
    """The square root of 2 and a cosine's zero; bisection would need some forty tries for either."""
    tries: list[float] = []
    root = zero_of(lambda x: (tries.append(x), x * x - 2)[1], 0.0, 2.0)
    assert root == pytest.approx(math.sqrt(2), abs=CLOSE)
    assert len(tries) < 15
    assert zero_of(math.cos, 3.0, 0.0) == pytest.approx(math.pi / 2, abs=CLOSE)


def test_no_zero_between_is_an_error() -> None:
    with pytest.raises(ValueError, match="different signs"):
        zero_of(lambda x: x * x + 1, 0.0, 2.0)


def test_the_library_is_loaded_when_a_zero_is_asked_for() -> None:
    script = (
        "import sys\n"
        "from neckmodel.geometry.bounds import nearest_enough, zero_of\n"
        "nearest_enough(lambda x: x > 1, 0.0, 2.0)\n"
        "print('scipy' in sys.modules, 'numpy' in sys.modules)\n"
        "zero_of(lambda x: x - 1, 0.0, 3.0)\n"
        "print('scipy' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, encoding="utf-8", timeout=HANGS, check=True
    )
    assert done.stdout.split() == ["False", "False", "True"]


def names(node: ast.AST, context: type[ast.expr_context]) -> set[str]:
    return {name.id for name in ast.walk(node) if isinstance(name, ast.Name) and isinstance(name.ctx, context)}


def halvings(tree: ast.Module) -> Iterator[int]:
    """Lines of loops that halve a range: they take the middle of two names, `(low + high) / 2`, `(low + high) // 2` or
    `(low * high) ** 0.5`, and move one of the two there."""
    for loop in ast.walk(tree):
        if not isinstance(loop, ast.While | ast.For):
            continue
        inside = [node for line in loop.body for node in ast.walk(line) if isinstance(node, ast.Assign)]
        for middle in inside:
            halved = middle.value
            if not isinstance(halved, ast.BinOp) or ast.unparse(halved.right) not in ("2", "2.0", "0.5"):
                continue
            ends = names(halved.left, ast.Load)
            new = names(middle.targets[0], ast.Store)
            moved = (line for line in inside if names(line.value, ast.Load) & new)
            if len(ends) == 2 and any(ends & names(line.targets[0], ast.Store) for line in moved):
                yield middle.lineno


def test_no_other_file_halves_a_range() -> None:
    found = [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for line in halvings(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert found == []
