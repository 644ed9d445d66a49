"""The edits that are tried on the package: each is one change of one place, and none of them is of words or types."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from edits import edits

import neckmodel

PACKAGE = Path(neckmodel.__file__).resolve().parent
SAMPLE = '''\
LIMIT = 3.0  # mm, at least 2

def spare(wall: float, worst: float = 1.5, strict: bool = True) -> float | None:
    """Never less than 0."""
    if wall < LIMIT and not strict:
        raise ValueError(f"less than {LIMIT - 1}")
    return max(abs(wall) - worst, -worst) if strict else wall * 2
'''


def test_every_kind_of_edit_in_one_small_file() -> None:
    made = {(edit.line, edit.kind, edit.before, edit.after) for edit in edits(SAMPLE)}
    last = "max(abs(wall) - worst, -worst) if strict else wall * 2"
    assert made == {
        (1, "number", "3.0", "4.0"),
        (3, "number", "1.5", "1.875"),
        (3, "truth", "True", "False"),
        (5, "comparison", "<", ">"),
        (5, "and or", "and", "or"),
        (5, "sign", "not strict", "(strict)"),
        (7, "return", f"return {last}", "return None"),
        (7, "arms", last, "(wall * 2 if strict else max(abs(wall) - worst, -worst))"),
        (7, "name", "max", "min"),
        (7, "abs", "abs(wall)", "(wall)"),
        (7, "arithmetic", "-", "+"),
        (7, "sign", "-worst", "(worst)"),
        (7, "arithmetic", "*", "/"),
        (7, "number", "2", "3"),
    }
    assert [edit.inside for edit in edits(SAMPLE)][:2] == ["", "spare"]


def test_a_floor_of_wood_is_no_rounding() -> None:
    text = "def deep(step):\n    floor = step.floor\n    return math.floor(floor.end) + np.ceil(floor.end)\n"
    assert [(edit.before, edit.after) for edit in edits(text) if edit.kind == "name"] == [
        ("math.floor", "math.ceil"),
        ("np.ceil", "np.floor"),
    ]


@pytest.mark.parametrize("room", ["layout/channel", "strength/bending", "checks/rod", "solids/kernel", "writers/step"])
def test_an_edited_file_is_still_a_program_and_another_one(room: str) -> None:
    for path in sorted((PACKAGE / room).glob("*.py")):
        text = path.read_text(encoding="utf-8")
        whole = ast.dump(ast.parse(text))
        for edit in edits(text)[::17]:
            assert ast.dump(ast.parse(edit.applied(text))) != whole, edit
