"""No ordinary test depends on how fast or busy the machine is: times and memory are for tests/benchmarks."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
# the long runs tell times, waiting.py ends what would never end; neither is a bound of speed
APART = {"benchmarks", "mutation", "oracle/sweep.py", "samples/waiting.py"}


def place(path: Path) -> str:
    return path.relative_to(TESTS).as_posix()


FILES = sorted(path for path in TESTS.rglob("*.py") if APART.isdisjoint({place(path), place(path).split("/")[0]}))
CLOCKS = {"time", "timeit", "resource", "tracemalloc", "psutil"}


def clocks(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """(line, what) of everything in a file that could hold a machine to a speed or a size."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names if alias.name in CLOCKS)
        elif isinstance(node, ast.ImportFrom) and node.module in CLOCKS:
            yield node.lineno, node.module
        elif isinstance(node, ast.Call):
            for word in node.keywords:
                if word.arg in ("timeout", "timeout_seconds") and "HANGS" not in ast.unparse(word.value):
                    yield node.lineno, f"timeout={ast.unparse(word.value)}"
            if isinstance(node.func, ast.Attribute) and node.func.attr == "wait":
                yield from ((node.lineno, f"wait({arg.value})") for arg in node.args if isinstance(arg, ast.Constant))


@pytest.mark.parametrize("path", FILES, ids=place)
def test_no_clock_no_memory_and_no_timeout_but_the_one(path: Path) -> None:
    assert list(clocks(ast.parse(path.read_text(encoding="utf-8")))) == []


def test_it_sees_what_it_looks_for() -> None:
    lines = ("import time", "from resource import getrusage", "run(timeout=60)", "child.wait(60)")
    text = "\n".join([*lines, "run(timeout=HANGS)", "child.wait(HANGS)"])
    assert list(clocks(ast.parse(text))) == [(1, "time"), (2, "resource"), (3, "timeout=60"), (4, "wait(60)")]
