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
from neckmodel.layout.channel.step import FOR_THE_KEY, End, EndKind, Step, StepName
from neckmodel.layout.rod.rod import Box
from neckmodel.layout.sides import SIGNS, Side, Toward, side_at

PACKAGE = Path(neckmodel.__file__).parent
HOMES = {
    "findings.py": frozenset(VERDICTS),
    "layout/channel/step.py": frozenset({*FOR_THE_KEY, StepName.RUN, *EndKind}),
    "layout/rod/rod.py": frozenset({Box.SPAN}),
    "layout/sides.py": frozenset(Side),
}
OTHERWISE = {
    ("checks/proof.py", "fail"): "the verb in a sentence",
    ("checks/proof.py", "warn"): "the verb in a sentence",
    ("report/words.py", "pass"): "the verb in a sentence",
    ("report/words.py", "warn"): "the verb in a sentence",
    ("design/defaults/derived.py", "bass"): "the instrument",
    ("design/defaults/instruments.py", "bass"): "the instrument",
    ("design/explanation.py", "bass"): "the instrument",
    ("design/tables/strings.py", "bass"): "a key of strings.scale",
    ("design/tables/strings.py", "treble"): "a key of strings.scale",
    ("presets.py", "bass"): "a key of strings.scale",
    ("presets.py", "treble"): "a key of strings.scale",
    ("design/tables/limits.py", "run"): "a key of limits.wall",
    ("design/rules/calibration.py", "span"): "a key of calibration",
    ("design/defaults/defaults.py", "round"): "the ends of the slots in a head",
    ("report/findings.py", "span"): "an element of HTML",
    ("report/view.py", "span"): "an element of HTML",
    ("jigs/letters.py", "square"): "how a geometry library ends a line",
    ("cli/vary.py", "pass"): "the head of a column: the share of necks that pass",
}
"""Where such a word stands and means something else, and what."""


def name_of(node: ast.expr) -> str:
    """The last name of `a`, `a.b` or `a.b(...)`; "" of anything else."""
    if isinstance(node, ast.Call):
        return name_of(node.func)
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def standing(tree: ast.Module) -> Iterator[str]:
    """Every whole piece of text in a file's code; not docstrings, the prose in f-strings, or words that make a type."""
    apart = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    types = (node for node in ast.walk(tree) if isinstance(node, ast.Subscript) and name_of(node.value) == "Literal")
    apart |= {id(word) for node in types for word in ast.walk(node.slice)}
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


ASKED = ("step", "cutting", "tool", "tool_mesh", "wall_tool", "in_wood", "segment", "settled", "void_under", "Step")
"""Functions to which a step or a box of the rod is named."""


def named_bare(tree: ast.Module) -> Iterator[str]:
    """The names of steps and boxes that are written out where one is looked for or made: `step.name == "anchor"`."""
    words = {*StepName, *Box}
    for node in ast.walk(tree):
        parts: list[ast.expr] = []
        if isinstance(node, ast.Compare) and {"name", "step", "steps"} & {
            name_of(side) for side in (node.left, *node.comparators)
        }:
            parts = [node.left, *node.comparators]
        elif isinstance(node, ast.Call) and name_of(node) in ASKED:
            parts = node.args
        inside = (word for part in parts for word in ast.walk(part))
        yield from (w.value for w in inside if isinstance(w, ast.Constant) and w.value in words)


def test_a_step_is_never_looked_for_by_bare_text() -> None:
    """Words such as "anchor" and "washer" are parts of the rod and keys of the file too: only their use tells."""
    trees = {path: ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")}
    bare = {
        path.relative_to(PACKAGE).as_posix(): found for path, tree in trees.items() if (found := [*named_bare(tree)])
    }
    assert not bare


@pytest.mark.parametrize(
    "text",
    [
        's.name == "anchor"',
        's.name in ("run", "anchor")',
        '"anchor" in steps',
        'layout.step("anchor")',
        'Step("anchor")',
    ],
)
def test_a_step_looked_for_by_bare_text_is_seen(text: str) -> None:
    assert "anchor" in list(named_bare(ast.parse(text)))


def test_a_step_and_its_ends_are_their_words_in_files() -> None:
    """`layout --json` promises the steps by name; a step's names are those of the findings about it."""
    assert [f"wall/{name}" for name in FOR_THE_KEY] == ["wall/access-slot", "wall/key-swing", "wall/key-bore"]
    names = ["run", "block", "anchor", "washer", "adjuster", "access-slot", "key-swing", "key-bore"]
    assert json.dumps([*StepName]) == json.dumps(names)
    assert json.dumps([*EndKind, *End]) == json.dumps(["open", "square", "round", "start", "end"])


@pytest.mark.parametrize(("end", "kind", "x"), [(End.START, EndKind.SQUARE, 3.0), (End.END, EndKind.OPEN, 11.0)])
def test_a_step_tells_its_two_ends_apart(end: End, kind: EndKind, x: float) -> None:
    step = Step(StepName.RUN, 3.0, 11.0, 6.0, 9.0, 9.0, end_start=EndKind.SQUARE, end_end=EndKind.OPEN)
    assert step.end(end) == (kind, x)
    assert step.flipped().end(End.END if end is End.START else End.START) == (kind, -x)


def test_y_grows_toward_the_treble_side() -> None:
    """As shapes are drawn from above with the body to the right: common practice, no source."""
    assert [side_at(y) for y in (-2.0, 2.0)] == ["bass", "treble"]
    assert all(side_at(float(sign)) is side for side, sign in SIGNS)
    assert [side.other for side in Side] == [*Side][::-1]
    assert [way.other for way in Toward] == [*Toward][::-1]


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
    so = told | {"good": True, "limit": 2.5}
    assert yes_no_finding(**so).spare == 0.5
    assert yes_no_finding(**so, held=(None, 2.5)).spare == -0.5
    assert yes_no_finding(**so, held=(2.9, 3.2)).spare == pytest.approx(0.1, abs=1e-12)
    assert told_finding(**told).spare == math.inf
    assert (told_finding(**told).verdict, told_finding(**told).limit) == ("pass", None)


def test_a_skipped_finding_has_no_number() -> None:
    made = skipped_finding(check="a/b", part="neck", says="no board is stated", unit="degrees", basis="geometry")
    assert (made.verdict, made.measured, made.limit, made.unit) == ("skipped", None, None, "degrees")
