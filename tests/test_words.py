"""A word that decides something stands in one file: everywhere else the code names it, and mypy knows its type.

Looked for in the syntax trees of the package: a piece of text that is just such a word, docstrings apart.
"""

from __future__ import annotations

import ast
import inspect
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import neckmodel
from neckmodel.findings import (
    FAIL,
    PASS,
    SKIPPED,
    VERDICTS,
    WARN,
    Verdict,
    limit_finding,
    range_finding,
    skipped_finding,
    told_finding,
    yes_no_finding,
)

PACKAGE = Path(neckmodel.__file__).parent
HOMES = {
    "findings.py": frozenset(VERDICTS),
}
OTHERWISE = {
    ("checks/proof.py", "fail"): "the verb in a sentence",
    ("checks/proof.py", "warn"): "the verb in a sentence",
    ("report/words.py", "pass"): "the verb in a sentence",
    ("report/words.py", "warn"): "the verb in a sentence",
    ("cli/vary.py", "pass"): "the head of a column: the share of necks that pass",
}
"""Where such a word stands and means something else, and what."""


def standing(tree: ast.Module) -> Iterator[str]:
    """Every whole piece of text in a file's code, docstrings and parts of f-strings apart."""
    apart = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    apart |= {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in apart:
            yield node.value


def found() -> dict[str, frozenset[str]]:
    """The words of HOMES by the file in which they stand."""
    words = frozenset[str]().union(*HOMES.values())
    trees = {path: ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")}
    return {
        path.relative_to(PACKAGE).as_posix(): here
        for path, tree in trees.items()
        if (here := words.intersection(standing(tree)))
    }


def test_a_word_with_a_home_stands_nowhere_else() -> None:
    astray = {
        (file, word)
        for file, here in found().items()
        for word in here - HOMES.get(file, frozenset())
        if (file, word) not in OTHERWISE
    }
    assert not astray, "name it instead: " + ", ".join(f"{word!r} in {file}" for file, word in sorted(astray))


def test_each_home_holds_its_words_and_each_exception_is_one() -> None:
    there = found()
    assert {file: here & there[file] for file, here in HOMES.items()} == HOMES
    stale = {(file, word) for file, word in OTHERWISE if word not in there.get(file, frozenset())}
    assert not stale


@pytest.mark.parametrize("text", ['x = "fail"', 'f(a, kind="fail")', 'd = {"fail": 1}', "x = f\"{d['fail']}\""])
def test_such_a_word_is_seen_wherever_it_stands(text: str) -> None:
    assert "fail" in set(standing(ast.parse(text)))


@pytest.mark.parametrize("text", ['"fail"', 'def f():\n    "fail"', 'x = f"fail {y}"', 'x = "they fail"'])
def test_prose_is_not_taken_for_such_a_word(text: str) -> None:
    assert "fail" not in set(standing(ast.parse(text)))


def test_a_verdict_is_its_word_in_files_and_in_print() -> None:
    """`check --json` promises "pass", "fail", "warn" and "skipped" as they are."""
    assert json.dumps({FAIL: [PASS, WARN]}, indent=1) == json.dumps({"fail": ["pass", "warn"]}, indent=1)
    assert f"{SKIPPED:>8}|{WARN}" == " skipped|warn"
    assert Verdict("warn") is WARN


def test_verdicts_stand_worst_first() -> None:
    assert VERDICTS == ("fail", "warn", "skipped", "pass")


def test_a_finding_is_made_by_its_makers_and_read_back_in_one_place() -> None:
    """Each maker takes keywords only, so that no number can stand in another's place."""
    made = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Finding"
    }
    assert made == {"findings.py", "writers/folders/previous.py"}
    makers = (limit_finding, range_finding, yes_no_finding, told_finding, skipped_finding)
    kinds = {parameter.kind for maker in makers for parameter in inspect.signature(maker).parameters.values()}
    assert kinds == {inspect.Parameter.KEYWORD_ONLY, inspect.Parameter.VAR_KEYWORD}


def test_a_thing_that_is_not_so_fails_unless_said_otherwise() -> None:
    made = [
        yes_no_finding(check="jig/bed", part="jig-caul", good=good, says="", otherwise=otherwise)
        for good, otherwise in ((True, FAIL), (False, FAIL), (True, WARN), (False, WARN))
    ]
    assert [finding.verdict for finding in made] == ["pass", "fail", "pass", "warn"]
    assert yes_no_finding(check="jig/bed", part="jig-caul", good=False, says="").verdict == "fail"


def test_what_a_finding_has_to_spare_follows_from_its_maker() -> None:
    """At least a limit; between two; under one; nothing to hold it against."""
    told: dict[str, Any] = {"check": "a/b", "part": "neck", "says": "", "measured": 3.0}
    judged = told | {"verdict": PASS, "limit": 2.5}
    assert limit_finding(**judged).spare == 0.5
    assert range_finding(**judged, held=(2.5, 3.1)).spare == pytest.approx(0.1, abs=1e-12)
    assert range_finding(**judged, held=(None, 2.8)).spare == pytest.approx(-0.2, abs=1e-12)
    assert told_finding(**told).spare == math.inf
    assert (told_finding(**told).verdict, told_finding(**told).limit) == ("pass", None)


def test_a_skipped_finding_has_no_number() -> None:
    made = skipped_finding(check="a/b", part="neck", says="no board is stated", unit="degrees", basis="geometry")
    assert (made.verdict, made.measured, made.limit, made.unit) == ("skipped", None, None, "degrees")
