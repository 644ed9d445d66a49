"""A limit, a default or an allowance stands once: texts take its number from there, and none is typed again.

In texts that explain a check every number counts; in all other texts of the package a number with its unit.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import neckmodel
from neckmodel.checks.registry import EXPLAINED
from neckmodel.checks.workshop.cutters import BASIS as OF_CUTTERS
from neckmodel.design.defaults.defaults import DEFAULTS, RANGES
from neckmodel.strength.estimate import BASIS, LASTING

PACKAGE = Path(neckmodel.__file__).resolve().parent
SIZE = re.compile(r"(?<![\w.])(?:\d+(?:\.\d+)? (?:mm[23]?|mm²|degrees|%|MPa|N)(?!\w)|x \d+\.\d+|1 in \d+)")
# what may be typed: no limit of ours, but the name of a source, or a number that is what it is by itself
CITED = (
    r"FPL-GTR-282 \(2021\)|ISO \d+|JIS B \d+|\(1961\)|chapter 2|equation 4-5|tables 4-3 and 13-5",
    r"\b(?:mm|N/mm)2|mm3",  # units
    r"^0 mm |^more than 0;|^warns below 0|^0 to |top 0\.0 to ",  # nothing at all
    r"^60 degrees",  # from flat to flat of a hexagon
    r"at 90 degrees",  # level
    r"^1\.0; warns",  # bears just what it is asked to
    r"fret 1\b|1 in $",  # what a slope is told by
)
# the sizes that other texts hold, and why they are no limits of ours
TYPED = {
    "cli/vary.py": ["1 in 100", "100 %"],  # shares of all designs tried
    "design/annotations.py": ["6 mm"],  # how a length is written, by an example
    "design/explanation.py": ["640 mm", "864 mm", "645 mm", "650 mm", "350 mm"],  # the instruments' scale lengths
    "design/rules/calibration.py": ["9.81 N"],  # the weight of a kilogram
    "design/schema.py": ["5.5 mm"],  # how a length is written
    "design/tables/board.py": ["1 in 20"],  # how a slope is written
    "sheets/pages/titles.py": ["100 %"],  # how to print
    "units.py": ["5.5 mm"],  # how a length is written
    "work/blank.py": ["9 %"],  # the text itself is the value's home
    "work/fretboard.py": ["60 mm"],  # the same
}


def texts(path: Path) -> Iterator[str]:
    """Every text of a file but docstrings and the formats of numbers."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    silent: set[int] = set()
    for node in ast.walk(tree):
        for statement in getattr(node, "body", None) or () if not isinstance(node, ast.Lambda | ast.IfExp) else ():
            if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
                silent.add(id(statement.value))
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            silent |= {id(part) for part in ast.walk(node.format_spec)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent:
            yield node.value


def sizes(path: Path) -> list[str]:
    return [found for text in texts(path) if " " in text for found in SIZE.findall(text)]


def typed_numbers(text: str) -> list[str]:
    for cited in CITED:
        text = re.sub(cited, "", text)
    return re.findall(r"\d+(?:\.\d+)?", text)


@pytest.mark.parametrize("path", sorted((PACKAGE / "checks" / "explain").glob("*.py")), ids=lambda path: path.name)
def test_what_explains_a_check_types_no_number(path: Path) -> None:
    keys = {key for key in (*DEFAULTS, *RANGES) if "." in key}
    assert [(text, found) for text in texts(path) if text not in keys and (found := typed_numbers(text))] == []


def test_no_other_text_types_a_size() -> None:
    found = {path.relative_to(PACKAGE).as_posix(): sizes(path) for path in sorted(PACKAGE.rglob("*.py"))}
    assert {name: typed for name, typed in found.items() if typed and "checks/explain/" not in name} == TYPED


def test_a_typed_size_would_be_found(tmp_path: Path) -> None:
    """The ways in which a limit was once typed into a text."""
    file = tmp_path / "text.py"
    for said in (
        "a plate 8.0 mm thick",
        "moduli x 1.10",
        "up to 1 in 20 is usual",
        "as much as 0.5 mm3",
        "to 0.1 %",
    ):
        file.write_text(f"SAYS = {said!r}\n", encoding="utf-8")
        assert len(sizes(file)) == 1, said
    for said in ("limits.wall, 3.0 mm", "warns below 0.70 of the area", "1.0; 6.0 is usual"):
        assert typed_numbers(said), said
    file.write_text('"""Within 0.5 mm."""\nSAYS = f"{wide:.2f} mm"\n', encoding="utf-8")
    assert sizes(file) == []


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("wall/<step>", "limits.wall, 3.0 mm; negative is a break-through, by its depth"),
        ("section/nut", "warns below 0.70 of the area or 0.75 of the modulus"),
        ("place/anchor", "rod_place.past_joint, 15 mm (10 to 30)"),
        ("fit/adjuster", "more than 0; 0.5 to 1.5 mm on the diameter is usual"),
        ("overlap/<part>-<part>", "no shared volume of more than 0.0001 mm mean thickness"),
        ("stock/grain", "warns above 1 in 20, fails above limits.stock_grain, 1 in 12"),
        ("heel/screws", "limits.heel_screws, 12 mm; 18 to 22 mm is usual in hardwood; 1.0 mm below the glue plane"),
        ("jig/pocket", "0.5 mm3, and 0.02 mm in depth"),
        ("jig/hole", "0.02 mm; of the guide for a bore to the soundhole 0.03 mm"),
        ("jig/joints", "workshop.printer.fit_per_side, 0.2 mm; volume to 0.1 %"),
        ("jig/cork", "2.0 mm; up to 1.2 mm more where the neck tapers along a saddle"),
    ],
)
def test_the_numbers_are_printed_as_a_maker_writes_them(name: str, says: str) -> None:
    """Common practice, no source: what the trade is told, so that a change of a limit, or of how it prints, is seen."""
    (entry,) = [about for about in EXPLAINED if about.name == name]
    assert entry.limit == says


def test_so_are_those_beside_a_finding() -> None:
    """The two shares are the Wood Handbook's (pages 5-2 and 5-40)."""
    assert OF_CUTTERS == "geometry; a base plate 8.0 mm thick by common practice, no source"
    assert (BASIS, LASTING) == (
        "estimate: Wood Handbook FPL-GTR-282 (2021), moduli x 1.10",
        "x 0.6 for load that lasts ten years (page 5-40)",
    )
