"""What mypy cannot see is kept where it cannot be helped: `Any` at the edges, an assert where it says something."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import neckmodel

PACKAGE = Path(neckmodel.__file__).parent
EDGES = {
    "solids/": "the CAD kernel has no types",
    "meshes/": "the CAD kernel has no types",
    "jigs/": "the CAD kernel has no types",
    "checks/measure/": "the CAD kernel has no types",
    "writers/": "files read back, and libraries of file formats without types",
    "layout/drawings/": "libraries that read drawings",
    "layout/json/layout.py": "JSON as it is given out",
    "design/reading/": "the file as it is, and pydantic's errors",
    "design/values/": "pydantic's hooks and JSON schema",
    "design/tables/measured.py": "JSON schema",
    "design/schema.py": "JSON schema",
    "design/annotations.py": "a file as it is",
    "design/rods.py": "a file as it is",
    "cli/guard.py": "what typer hands on to click",
    "strength/materials/own.py": "values put over a wood's by name",
}
"""Where `Any` may stand, and why."""

SAID = {
    "design/reading/unit.py": "only bare numbers get there",
    "design/annotations.py": "each unit has its words",
    "layout/body/place.py": "the hash is taken before the copy",
    "variants/rods/fit.py": "every rod of a list is one",
    "sheets/kinds/machine.py": "a mirrored path is a path",
    "sheets/views/hand.py": "refuses windows",
    "sheets/marks/occupied.py": "refuses windows",
    "sheets/jigs/sheet.py": "rows that were packed fill the pages they were packed on",
    "sheets/registry.py": "what is not drawn whole or for machines is paged",
}
"""Files with one assert each, and what it says that a type does not."""


def trees() -> Iterator[tuple[str, ast.Module]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        yield path.relative_to(PACKAGE).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def has_any(tree: ast.Module) -> bool:
    return any(isinstance(node, ast.Name) and node.id == "Any" for node in ast.walk(tree))


def test_any_stands_at_the_edges_only() -> None:
    found = [file for file, tree in trees() if has_any(tree)]
    assert not [file for file in found if not file.startswith(tuple(EDGES))]
    assert not [edge for edge in EDGES if not any(file.startswith(edge) for file in found)]


def test_no_more_is_asserted_than_is_said() -> None:
    counts = {file: sum(isinstance(node, ast.Assert) for node in ast.walk(tree)) for file, tree in trees()}
    assert {file: count for file, count in counts.items() if count} == dict.fromkeys(SAID, 1)


@pytest.mark.parametrize("text", ["x: Any = 1", "def f(x: list[Any]) -> int: ...", "x: dict[str, Any]"])
def test_any_is_seen_wherever_it_stands(text: str) -> None:
    assert has_any(ast.parse(text))
