"""`convert`, and `new` in inches or from a file: what is written, where, and what is left alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_runs import Invoke, Process
from measured_runs import found_on, measured_parts

from neckmodel import presets
from neckmodel.checks.bench import Bench
from neckmodel.design import read
from neckmodel.layout import lay_out


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    """A file of a maker's own, with remarks, and a drawing beside it."""
    path = tmp_path / "bench" / "robin.toml"
    path.parent.mkdir()
    text = presets.folder().joinpath("redpoll.toml").read_text()
    path.write_text(text.replace('"redpoll"', '"robin"').replace("\nscale =", "\n# long enough\nscale ="))
    return path


def test_beside_its_source_and_back(invoke: Invoke, mine: Path) -> None:
    before = mine.read_text()
    result = invoke("convert", str(mine), "--units", "in")
    assert result.exit_code == 0, result.stderr
    assert (
        result.stdout
        == f"wrote {mine.parent / 'robin-in.toml'}: 126 lengths in inches, 2 left as they are, with their own units\n"
    )
    assert "kept word for word" in result.stderr
    assert mine.read_text() == before
    made = mine.parent / "robin-in.toml"
    assert "# long enough\nscale = 25.1969\n" in made.read_text()
    assert "Lengths are in inches;" in made.read_text()
    assert made.read_text().count('size = "4.0 mm"') == 2  # a hexagon key and its socket are sold by that size
    assert invoke("convert", str(made), "--units", "mm", "--out", "back").exit_code == 0
    assert Path("back/robin-in-mm.toml").read_text() == before
    assert read(made).name == "robin"


def test_never_over_a_file_unless_asked(invoke: Invoke, mine: Path) -> None:
    there = mine.parent / "robin-in.toml"
    there.write_text("mine")
    result = invoke("convert", str(mine), "--units", "in")
    assert (result.exit_code, there.read_text()) == (2, "mine")
    assert "is there already; it stays as it is" in result.stderr
    assert invoke("convert", str(mine), "--units", "in", "--in-place").exit_code == 0
    assert read(mine).design.units == "in"
    assert there.read_text() == "mine"
    assert sorted(path.name for path in mine.parent.iterdir()) == ["robin-in.toml", "robin.toml"]


def test_in_place_through_a_link_keeps_the_link(invoke: Invoke, mine: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(mine)
    assert invoke("convert", str(link), "--units", "in", "--in-place").exit_code == 0
    assert link.is_symlink()
    assert read(mine).design.units == "in"


def test_a_file_already_in_that_unit_is_left(invoke: Invoke, mine: Path) -> None:
    result = invoke("convert", str(mine), "--units", "MM")
    assert (result.exit_code, result.stdout) == (0, f"{mine} is in mm already; nothing is written\n")
    assert [path.name for path in mine.parent.iterdir()] == ["robin.toml"]


def test_a_preset_and_standard_input(invoke: Invoke, process: Process, tmp_path: Path) -> None:
    assert invoke("convert", "redpoll", "--units", "in", "--in-place").exit_code == 2
    result = invoke("convert", "redpoll", "--units", "in", "--json")
    found = json.loads(result.stdout)
    assert (found["file"], found["turned"], found["kept"]) == ("redpoll-in.toml", 126, 2)
    text = (tmp_path / "redpoll-in.toml").read_text()
    piped = process("convert", "-", "--units", "mm", stdin=text)
    assert piped.returncode == 0
    assert "\nscale = 640.0\n" in piped.stdout
    assert sorted(path.name for path in tmp_path.iterdir()) == ["redpoll-in.toml"]


def test_wrong_calls(invoke: Invoke, mine: Path) -> None:
    assert invoke("convert", str(mine), "--units", "ell").stderr == (
        'neckmodel: there is no unit "ell"; there are: mm and in\n'
    )
    assert invoke("convert", str(mine), "--units", "in", "--in-place", "--out", "x").exit_code == 2
    assert invoke("convert", str(mine)).exit_code == 2
    assert [path.name for path in mine.parent.iterdir()] == ["robin.toml"]


def test_a_drawing_is_found_from_the_new_folder(invoke: Invoke, mine: Path) -> None:
    (mine.parent / "head.svg").write_text("<svg/>")
    text = mine.read_text().replace("outline = {near = 46.0, far = 58.0}", 'outline = {file = "head.svg"}')
    mine.write_text(text)
    for words, made in (
        (("convert", str(mine), "--units", "in", "--out", "inches"), "inches/robin-in.toml"),
        (("new", "wren", "--like", str(mine), "--out", "new"), "new/wren.toml"),
    ):
        assert invoke(*words).exit_code == 0
        named = Path(made).parent / read(made).head.outline.file  # type: ignore[union-attr]
        assert named.resolve() == (mine.parent / "head.svg").resolve()


# wheatear: a tenon, whose length and the joint say where the wood ends; redpoll and dunnock lie on limits
@pytest.mark.parametrize(
    "like",
    [
        pytest.param(name, marks=() if name in ("redpoll", "wheatear") else (pytest.mark.sweep,))
        for name in presets.names()
    ],
)
@pytest.mark.parametrize("way", ["new", "convert"])
def test_a_preset_in_inches_passes_as_it_does_in_mm(invoke: Invoke, like: str, way: str) -> None:
    if way == "new":
        assert invoke("new", "wren", "--like", like, "--units", "in").exit_code == 0
        design = read("wren.toml")
    else:
        assert invoke("convert", like, "--units", "in").exit_code == 0
        design = read(f"{like}-in.toml")
    assert design.design.units == "in"
    assert found_on(Bench(measured_parts(lay_out(design)))).passed


def test_a_new_file_in_inches_is_in_numbers_of_the_bench(invoke: Invoke) -> None:
    assert invoke("new", "wren", "--units", "inches").exit_code == 0
    text = Path("wren.toml").read_text()
    assert "\nscale = 25.2\n" in text
    assert 'at_nut = "1/64"' in text
    assert "They are that preset's to 0.001 in, those over 4 in to 0.01 in." in text
    assert "nut along the neck. 0.06 to 0.59 in, usually 0.119 to 0.255 in; default 0.197 in." in text
    assert "Lengths are in inches;" in text
    assert " mm;" not in text


def test_like_any_file_under_its_own_name(invoke: Invoke, mine: Path) -> None:
    result = invoke("new", "wren", "--like", str(mine))
    assert (result.exit_code, result.stdout) == (0, f"wrote wren.toml, a copy of {mine}\n")
    text = Path("wren.toml").read_text()
    assert text.startswith("# wren: a copy of robin.toml.\n")
    assert "# long enough\nscale = 640.0" in text
    assert read("wren.toml").name == "wren"
    assert invoke("new", "knot", "--like", "wren.toml", "--units", "in").exit_code == 0
    assert read("knot.toml").strings.scale.bass == pytest.approx(640, abs=0.00127)
    result = invoke("new", "ruff", "--like", "none.toml")
    assert result.exit_code == 2
    assert "there is no such file" in result.stderr
