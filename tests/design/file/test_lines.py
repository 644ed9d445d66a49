"""Line numbers of keys, for every way TOML has to write them."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.design.file.lines import Lines

TEXT = '''# remark
[rod]
length = 420.0

adjuster = {diameter = 7.0, socket = {size = 4.0}}
block.length = 12.0
[heel]
screws = [
  {y = -17.0},

  # between
  {y = 17.0}, {y = 18.0},
]
bed = [200,
  210, 220]
note = """
[not.a.section]
"""
[[workshop.cutters]]
diameter = 4.0
[[workshop.cutters]]
diameter = 6.0
[workshop.cutters.shank]
size = 8
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("rod",), 2),
        (("rod", "length"), 3),
        (("rod", "adjuster", "socket", "size"), 5),
        (("rod", "block", "length"), 6),
        (("heel", "screws"), 8),
        (("heel", "screws", 0, "y"), 9),
        (("heel", "screws", 1, "y"), 12),
        (("heel", "screws", 2, "y"), 12),
        (("heel", "bed", 0), 14),
        (("heel", "bed", 2), 15),
        (("heel", "note"), 16),
        (("workshop", "cutters", 0, "diameter"), 20),
        (("workshop", "cutters", 1, "diameter"), 22),
        (("workshop", "cutters", 1, "shank", "size"), 24),
        (("rod", "width"), 2),
        (("board",), None),
        (("not",), None),
    ],
)
def test_line(path: tuple[str | int, ...], line: int | None) -> None:
    tomllib.loads(TEXT)
    assert Lines(TEXT).of(path) == line


@given(st.integers(0, 300), st.integers(1, 300))
def test_keys_of_a_long_file_keep_their_lines(before: int, keys: int) -> None:
    text = "\n" * before + "[a]\n" + "".join(f"k{n} = {n}\n" for n in range(keys))
    assert Lines(text).of(("a", f"k{keys - 1}")) == before + 1 + keys
