"""The bounds of the house: how long a file or function may be, how many values may go unnamed, what may be remembered.

Each exception stands here with its reason.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import neckmodel

PACKAGE = Path(neckmodel.__file__).resolve().parent
FILES = sorted(PACKAGE.rglob("*.py"))

LONGEST_FILE, LONGEST_FUNCTION = 300, 60  # lines
UNNAMED = 7  # values that a call or a function takes by their place

BY_PLACE = {
    ("report/drawings.py", "section"): "title, and what stands in the section, as many as there are",
    ("solids/neck/carving.py", "Geom_BSplineSurface"): "the kernel's own: it takes no names",
    ("writers/step/kernel.py", "SetValues"): "the kernel's own: a matrix row by row",
}
CACHED = {
    (
        "checks/remedies/remedy.py",
        "_as_measured",
    ): "of one frozen design alone: all its remedies start from it",
    ("checks/remedies/uncut.py", "least"): "a search over one design, kept while its remedy is made",
    ("checks/remedies/washer.py", "least_middle"): "the same",
    ("checks/remedies/washer.py", "least_less"): "the same",
    ("design/values/fields.py", "below"): "of the tables alone, which never change: all readings ask the same",
    ("design/values/fields.py", "fields"): "the same",
    ("design/values/fields.py", "length_at"): "the same",
    ("sheets/jigs/packing.py", "best"): "of one list of rows, kept while its pages are chosen",
    ("solids/neck/superellipse.py", "_across"): "of one number alone, asked for at each of a skin's sections",
}
CHANGED = {
    ("stopping.py", "_RUN"): "signals come to the process, so their handlers' knowledge is the process's own",
}
CHANGING = {"add", "append", "clear", "discard", "extend", "insert", "pop", "popitem", "remove", "setdefault", "update"}


def place(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    return (node for node in ast.walk(tree(path)) if isinstance(node, ast.FunctionDef))


def last_name(node: ast.expr) -> str:
    return node.attr if isinstance(node, ast.Attribute) else node.id if isinstance(node, ast.Name) else ""


@pytest.mark.parametrize("path", FILES, ids=place)
def test_no_file_is_longer_than_can_be_overseen(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_FILE


def test_no_function_is_longer_than_can_be_overseen() -> None:
    assert [
        f"{place(path)}: {function.name}"
        for path in FILES
        for function in functions(path)
        if (function.end_lineno or 0) - function.lineno >= LONGEST_FUNCTION
    ] == []


def test_what_takes_many_values_takes_them_by_name() -> None:
    asked = {
        (place(path), function.name)
        for path in FILES
        for function in functions(path)
        if len([a.arg for a in (*function.args.posonlyargs, *function.args.args) if a.arg not in ("self", "cls")])
        > UNNAMED
    }
    given = {
        (place(path), last_name(call.func))
        for path in FILES
        for call in ast.walk(tree(path))
        if isinstance(call, ast.Call) and len(call.args) > UNNAMED
    }
    assert asked == set()
    assert given == set(BY_PLACE)


def test_nothing_is_cached_behind_a_function_but_where_it_says_why() -> None:
    found = {
        (place(path), function.name)
        for path in FILES
        for function in functions(path)
        for decorator in function.decorator_list
        if last_name(decorator.func if isinstance(decorator, ast.Call) else decorator) in ("cache", "lru_cache")
    }
    assert found == set(CACHED)
    called = [
        f"{place(path)}:{call.lineno}"
        for path in FILES
        for call in ast.walk(tree(path))
        if isinstance(call, ast.Call) and last_name(call.func) == "cache"
    ]
    assert called == []


def changed_in(path: Path) -> set[str]:
    """The names of a module that one of its functions changes: puts something into them, or binds them anew."""
    module = tree(path)
    own = {
        name.id for node in module.body for to in targets(node) for name in ast.walk(to) if isinstance(name, ast.Name)
    }
    found = set()
    for function in functions(path):
        for node in ast.walk(function):
            if isinstance(node, ast.Global):
                found |= set(node.names)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGING:
                found.add(root(node.func.value))
            found |= {root(each) for each in targets(node) if isinstance(each, ast.Attribute | ast.Subscript)}
    return found & own


def targets(node: ast.AST) -> list[ast.expr]:
    if isinstance(node, ast.Assign | ast.Delete):
        return node.targets
    return [node.target] if isinstance(node, ast.AugAssign | ast.AnnAssign) else []


def root(node: ast.expr) -> str:
    while isinstance(node, ast.Attribute | ast.Subscript):
        node = node.value
    return last_name(node)


def test_no_module_remembers_anything_but_where_it_says_why() -> None:
    assert {(place(path), name) for path in FILES for name in changed_in(path)} == set(CHANGED)


MODULE = """
KEPT, COUNTED, UNTOUCHED = {}, 0, {}
LISTED: list[int] = []

def keep(x, own):
    KEPT[x] = 1
    LISTED.append(x)
    local = {}
    local[x] = own.value = UNTOUCHED.get(x)

def count():
    global COUNTED
    COUNTED = 1
"""


def test_a_module_that_remembers_is_found(tmp_path: Path) -> None:
    (tmp_path / "one.py").write_text(MODULE, encoding="utf-8")
    assert changed_in(tmp_path / "one.py") == {"KEPT", "COUNTED", "LISTED"}
