"""The tests' folders mirror the rooms of the package: who knows where a rule lives knows where it is tested."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

import neckmodel

TESTS, PACKAGE = Path(__file__).parent, Path(neckmodel.__file__).resolve().parent
# rooms of the tests' own, each told in DEVELOPERS.md
OWN = ("benchmarks", "mutation", "oracle", "pictures", "samples", "whole")

FILES = sorted(path.relative_to(TESTS) for path in TESTS.rglob("*.py"))
ROOMS = sorted({path.parent for path in FILES if path.parent != Path() and path.parts[0] not in OWN})


@pytest.mark.parametrize("room", ROOMS, ids=Path.as_posix)
def test_a_folder_of_tests_is_a_room_of_the_package(room: Path) -> None:
    assert (PACKAGE / room / "__init__.py").is_file(), f"no room neckmodel/{room.as_posix()}"


def test_every_room_at_the_top_has_its_tests() -> None:
    rooms = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    tested = {path.parts[0] for path in FILES if path.name.startswith("test_") and len(path.parts) > 1}
    assert tested - set(OWN) == rooms


def test_rooms_of_the_tests_own_are_there_and_told_and_no_rooms_of_the_package() -> None:
    told = (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    for name in OWN:
        assert any(path.parts[0] == name for path in FILES), name
        assert f"`{name}/`" in told, name
        assert not (PACKAGE / name).exists(), name


def test_no_two_files_of_the_tests_share_a_name() -> None:
    """They are imported by their bare names: of two, one would be taken for the other."""
    names = Counter(path.name for path in FILES if path.name != "conftest.py")
    assert [name for name, count in names.items() if count > 1] == []
