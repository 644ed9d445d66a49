"""Every function, class, method, field and constant of the package is used by the package itself: what only tests call
is dead code, or belongs to the tests."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import neckmodel

PACKAGE = Path(neckmodel.__file__).resolve().parent
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))}

BY_PYTHON = re.compile(r"__\w+__")
# read by their names: by html.parser, by pydantic, and by notebooks (IPython's rich display)
BY_LIBRARIES = {"handle_starttag", "handle_startendtag", "handle_endtag", "model_config", "_repr_html_"}


def docstrings(tree: ast.Module) -> set[int]:
    holders = (node for node in ast.walk(tree) if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef))
    return {id(node.body[0].value) for node in holders if node.body and isinstance(node.body[0], ast.Expr)}


def used(tree: ast.Module) -> Iterator[str]:
    """Every name that is read, every attribute, keyword, and word of a string: what is called by its name is one."""
    told = docstrings(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.keyword) and node.arg:
            yield node.arg
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield from re.findall(r"[A-Za-z_]\w*", node.value)


def defined(body: list[ast.stmt]) -> Iterator[str]:
    """What a file defines at its top, and its classes in themselves."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            yield from (name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name))
        if isinstance(node, ast.ClassDef):
            yield from defined(node.body)


def test_nothing_is_there_that_nothing_uses() -> None:
    uses = Counter(name for tree in TREES.values() for name in used(tree))
    unused = [
        f"{path.relative_to(PACKAGE)}: {name}"
        for path, tree in TREES.items()
        for name in defined(tree.body)
        if not uses[name] and not BY_PYTHON.fullmatch(name) and name not in BY_LIBRARIES
    ]
    assert unused == []
