"""What a name means stands beside it: every public module, class, function and method of the package has a docstring,
what returns numbers says in which unit, and a constant that is a bare number says what it is.

Read from the syntax trees: nothing of the package is loaded.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import neckmodel

PACKAGE = Path(neckmodel.__file__).parent
FILES = {str(path.relative_to(PACKAGE)): path.read_text(encoding="utf-8") for path in sorted(PACKAGE.rglob("*.py"))}
Named = ast.ClassDef | ast.FunctionDef
NUMBERS = re.compile(r"\b(float|Floats|Array|NDArray\[np\.float64\])(?![\w.])")
# A unit, or a word that says that the number has none. A coordinate is in mm: DEVELOPERS.md and the README's frame.
UNIT = re.compile(
    r"\b(mm[234]?|N|MPa|GPa|Hz|kg|rad|radians|deg|[Dd]egrees|[Cc]ents?|[Pp]ercent|EI|g/m)\b|%|°"
    r"|\b([Ss]hares?|[Ff]actors?|[Hh]ow many|[Ee]xponents?|dx/dy|for each mm|0 to 1|E/G)\b"
    r"|\b([Uu]nit vectors?|unit normals|unit square|[Tt]urns|[Pp]oints?|[xyz])\b"
)
# numbers of any kind, in the unit of what they are asked with
OF_THE_CALLER = {
    "geometry/bounds.py nearest_enough",
    "geometry/bounds.py zero_of",
    "checks/remedies/fixed.py replacing",
    "strength/bending/calibration.py as_one",
    "findings.py Finding.spare",
    "geometry/splines.py basis",
    "variants/ranges.py values_between",
}


def public(tree: ast.Module | ast.ClassDef, before: str = "") -> Iterator[tuple[str, Named]]:
    """Every public class and function, methods and what stands under an `if` too; what is inside a function is not."""
    for node in tree.body:
        for named in ast.walk(node) if isinstance(node, ast.If | ast.Try | ast.With) else (node,):
            if isinstance(named, ast.ClassDef | ast.FunctionDef) and not named.name.startswith("_"):
                yield before + named.name, named
                if isinstance(named, ast.ClassDef):
                    yield from public(named, f"{before}{named.name}.")


def without_docstring(name: str, text: str) -> list[str]:
    tree = ast.parse(text)
    missing = [] if ast.get_docstring(tree) else [name]
    return missing + [f"{name} {what}" for what, named in public(tree) if not ast.get_docstring(named)]


def without_unit(name: str, text: str) -> list[str]:
    """Public functions that return numbers, and say of no unit: neither themselves, nor their class, nor the file."""
    tree = ast.parse(text)
    above = {what: ast.get_docstring(named) or "" for what, named in public(tree)}
    file = ast.get_docstring(tree) or ""
    found = []
    for what, named in public(tree):
        if isinstance(named, ast.FunctionDef) and named.returns and NUMBERS.search(ast.unparse(named.returns)):
            said = (above[what], above.get(what.rpartition(".")[0], ""), file)
            if not any(UNIT.search(words) for words in said):
                found.append(f"{name} {what}")
    return found


def bare_numbers(name: str, text: str) -> list[str]:
    """Public constants that are a fraction or a row of them, with no word on their lines, above them or below."""
    tree, rows, found = ast.parse(text), text.split("\n"), []
    for node, after in pairwise([*tree.body, ast.Pass()]):
        if not isinstance(node, ast.Assign) or not _is_number(node.value):
            continue
        targets = {named.id for target in node.targets for named in ast.walk(target) if isinstance(named, ast.Name)}
        if any(target.startswith("_") or not target.isupper() for target in targets):
            continue
        above = node.lineno - 2
        while above >= 0 and re.match(r"[A-Z][A-Z_0-9, ]* = ", rows[above]):  # one comment stands over a block
            above -= 1
        said = any("#" in row for row in rows[node.lineno - 1 : node.end_lineno]) or rows[above].startswith("#")
        if not (said or (isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant))):
            found.append(f"{name} {', '.join(sorted(targets))}")
    return found


def _is_number(value: ast.expr) -> bool:
    if isinstance(value, ast.Tuple):
        return bool(value.elts) and all(_is_number(part) for part in value.elts)
    if isinstance(value, ast.BinOp):
        return _is_number(value.left) or _is_number(value.right)
    return isinstance(value, ast.Constant) and isinstance(value.value, float)


COLOURS = {"jigs/make.py", "sheets/marks/layers.py"}
DIRECTIONS = re.compile(r"(X, Y, Z|BACK|TOWARD_END|ORIGIN)$")


def test_every_public_name_has_a_docstring() -> None:
    assert [line for name, text in FILES.items() for line in without_docstring(name, text)] == []


def test_whoever_returns_numbers_says_the_unit() -> None:
    found = {line for name, text in FILES.items() for line in without_unit(name, text)}
    assert found == OF_THE_CALLER


def test_a_constant_that_is_a_bare_number_says_what_it_is() -> None:
    found = [line for name, text in FILES.items() if name not in COLOURS for line in bare_numbers(name, text)]
    assert [line for line in found if not DIRECTIONS.search(line)] == []


def test_the_reading_of_the_files_finds_what_it_must() -> None:
    text = (
        '"""A file."""\nSAID = 1.5  # mm\nBARE = 2.5\n\nclass Thing:\n    """A thing."""\n\n'
        "    def size(self) -> float:\n        return 1.0\n\n"
        "if SAID:\n    def wide(x: float) -> float:\n"
        '        """How wide it is."""\n        return x\n\n'
        "def _own() -> float:\n    return 0.0\n"
    )
    assert without_docstring("a.py", text) == ["a.py Thing.size"]
    assert without_unit("a.py", text) == ["a.py Thing.size", "a.py wide"]
    assert bare_numbers("a.py", text) == ["a.py BARE"]
    assert without_unit("a.py", text.replace("wide it is", "wide it is, mm").replace("A thing", "A thing, mm")) == []
    assert without_docstring("b.py", "x = 1\n") == ["b.py"]
    assert len(FILES) > 400
