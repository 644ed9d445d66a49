"""Facts that stand once: the inch in `units`, and the numbers that defaults follow from."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import neckmodel
from neckmodel.design.defaults.assumed import ASSUMED
from neckmodel.design.defaults.defaults import DEFAULTS, INSTEAD, OPTIONAL
from neckmodel.design.defaults.fill import fill
from neckmodel.design.values.keys import look_up, split

PACKAGE = Path(neckmodel.__file__).resolve().parent
INCHES = {25.4, 304.8, 0.0254}  # mm in an inch, a foot and a thousandth


def test_the_inch_stands_in_units_alone() -> None:
    """As a number or as a text, in Python and in what a report's page runs."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and (node.value in INCHES or node.value in map(str, INCHES)):
                found.append(f"{path.relative_to(PACKAGE)}:{node.lineno}")
    script = (PACKAGE / "report" / "web" / "viewer.js").read_text(encoding="utf-8")
    assert [place.partition(":")[0] for place in found] == ["units.py"]
    assert not re.search(r"25\.4|304\.8|0\.0254", script)


def test_no_default_repeats_another_as_its_fallback() -> None:
    """What is taken where a number is not stated comes from `ASSUMED`; only 0 and 1 are said, for nothing."""
    said = [
        f"{path.name}:{node.lineno} {ast.unparse(node)}"
        for path in sorted((PACKAGE / "design" / "defaults").glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "number"
        for otherwise in node.args[1:]
        if isinstance(otherwise, ast.Constant) and otherwise.value not in (0, 1)
    ]
    assert said == []


# what no default gives: these a file must state, or they stand in a table that it may leave out
WITHOUT_DEFAULT = {
    "strings.courses",
    "strings.scale.bass",
    "strings.scale.treble",
    "fretboard.width.nut",
    "head.volute.length",
    "rod.width",
    "rod.height",
    "rod.diameter",
    "rod.adjuster.socket.size",
    "rod.adjuster.socket.depth",
    "bars.width",
}


@pytest.mark.parametrize("key", sorted(ASSUMED.keys() - WITHOUT_DEFAULT))
def test_what_is_assumed_is_what_a_file_gets(key: str) -> None:
    """A six-string electric that states nothing else gets the numbers that are assumed where nothing can be read."""
    tables: dict[str, object] = {
        "design": {},
        "strings": {"courses": 6, "scale": "640 mm"},
        "fretboard": {},
        "neck": {},
    }
    tables |= {"rod": {"adjuster": {"socket": {}}}, "adjusting_key": {}, "bars": {}}
    found = look_up(fill(tables, DEFAULTS, OPTIONAL, INSTEAD), split(key))
    expected = 2.0 if key == "bars.count" else ASSUMED[key]  # a pair beside a rod
    assert found == pytest.approx(expected, abs=1e-9)
