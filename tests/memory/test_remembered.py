"""A marked function is asked once for the same content, and the mark stands only where a key tells all that is read."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from remembering import using

import neckmodel
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import OTHER, SMALL, bytes_of
from neckmodel.memory.store import Store

PACKAGE = Path(neckmodel.__file__).resolve().parent
WIDE = {"Layout", "Design", "Parts", "Part", "Uncut", "Bench", "Source"}
"""What holds a whole design or more: no key is made of it, and no function that bears the mark may take it."""


class Solid:
    """Stands for a solid: its content cannot be told."""


asked: list[object] = []


@remembered(bytes_of)
def made(x: float, of: object = None) -> Solid:
    asked.append((x, of))
    return Solid()


@remembered(bytes_of)
def counted(values: tuple[float, ...]) -> float:
    asked.append(values)
    return sum(values)


def test_the_same_content_is_made_once() -> None:
    asked.clear()
    with using(Store()):
        assert made(1.0) is made(1.0)
        assert made(1.0) is not made(2.0)
        assert made(0.0) is not made(-0.0)
        assert counted((1.0, 2.0)) == counted((1.0, 2.0)) == 3.0
    assert asked == [(1.0, None), (2.0, None), (0.0, None), (-0.0, None), (1.0, 2.0)]


def test_what_was_made_is_an_input_by_its_own_inputs() -> None:
    asked.clear()
    with using(Store()):
        assert made(5.0, made(1.0)) is made(5.0, made(1.0))
        assert made(5.0, made(1.0)) is not made(5.0, made(2.0))
    assert len(asked) == 4


def test_an_input_of_unknown_make_is_an_ordinary_call() -> None:
    store = Store()
    stranger = Solid()
    with using(store):
        assert made(1.0, stranger) is not made(1.0, stranger)
        assert len(store) == 0
        held = made(1.0)
    with using(Store()):
        assert made(2.0, held) is not made(2.0, held)  # another memory does not know it


def test_without_a_memory_every_call_is_made() -> None:
    store = Store()
    with using(store):
        made(1.0)
        with using(None):
            assert made(1.0) is not made(1.0)
        assert len(store) == 1


def test_a_call_that_fails_is_not_kept() -> None:
    failing = [True]

    @remembered(bytes_of)
    def now_and_then(x: float) -> float:
        if failing:
            failing.clear()
            raise ValueError
        return x

    with using(Store()):
        for _ in range(2):
            try:
                found = now_and_then(1.0)
            except ValueError:
                found = None
    assert found == 1.0


def test_sizes_grow_with_what_is_kept() -> None:
    assert bytes_of(np.zeros(1000)) == SMALL + 8000
    assert bytes_of((1.0, np.zeros(10), "a")) == 4 * SMALL + 80
    assert bytes_of({"a": np.zeros(10)}) == 2 * SMALL + 80
    assert bytes_of(Solid()) == OTHER


def marked() -> Iterator[tuple[str, ast.FunctionDef]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and any(
                isinstance(mark, ast.Call) and getattr(mark.func, "id", "") == "remembered"
                for mark in node.decorator_list
            ):
                yield path.relative_to(PACKAGE).as_posix(), node


def test_no_marked_function_takes_a_whole_design() -> None:
    found = list(marked())
    assert len(found) > 30
    for file, function in found:
        for argument in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs):
            assert argument.arg not in ("self", "cls"), f"{file}: {function.name} belongs to an object"
            assert argument.annotation is not None
            names = {node.id for node in ast.walk(argument.annotation) if isinstance(node, ast.Name)}
            assert not names & WIDE, f"{file}: {function.name} takes {names & WIDE}"
        assert (function.args.vararg, function.args.kwarg) == (None, None)


def test_a_marked_function_stands_in_its_module() -> None:
    """Inside another function it could read that one's own values, of which its key knows nothing."""
    found = list(marked())
    for file in sorted({at for at, _ in found}):
        module = ast.parse((PACKAGE / file).read_text(encoding="utf-8"))
        top = {node.name for node in module.body if isinstance(node, ast.FunctionDef)}
        assert {function.name for at, function in found if at == file} <= top, file
