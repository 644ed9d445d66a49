"""A neck of a board of strips, as a text: invented, for the tests alone."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from neckmodel.design import Design, read_text
from neckmodel.layout import Layout, lay_out

if TYPE_CHECKING:
    from neckmodel.solids.parts import Parts

# five strips, maple and walnut, with a channel 6.1 wide and 9.3 deep
SISKIN = """
[design]
name = "siskin"
[strings]
courses = 6
scale = 640.0
spacing_at_nut = 35.4
spacing_at_bridge = 52.5
each = [
  {note = "E2", diameter = 1.17, mass_per_length = 6.65},
  {note = "A2", diameter = 0.91, mass_per_length = 4.03},
  {note = "D3", diameter = 0.66, mass_per_length = 2.08},
  {note = "G3", diameter = 0.43, mass_per_length = 1.14},
  {note = "B3", diameter = 0.33, mass_per_length = 0.671},
  {note = "E4", diameter = 0.25, mass_per_length = 0.397},
]
[fretboard]
frets = 22
thickness = 6.0
edge_margin = 3.6
radius = 300.0
[neck]
joint_fret = 16
thickness = {fret_1 = 20.5, fret_12 = 22.5}
back = "C"
[heel]
screws = [
  {from_end = 20.0, y = -15.0, diameter = 4.5, length = 45.0, kind = "wood-screw"},
  {from_end = 20.0, y = 15.0, diameter = 4.5, length = 45.0, kind = "wood-screw"},
]
[head]
tuners = [
  {x = -40.0, y = -15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
  {x = -40.0, y = 15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
  {x = -75.0, y = -15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
  {x = -75.0, y = 15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
  {x = -110.0, y = -15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
  {x = -110.0, y = 15.0, hole = 10.0, housing = {length = 18.0, width = 26.0}},
]
[rod]
kind = "two-way"
adjuster_at = "head"
length = 420.0
width = 6.0
height = 9.2
block = {length = 12.0}
anchor = {length = 12.0}
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[rod_place]
from_nut = 7.0
[adjusting_key]
kind = "straight"
length = 190.0
[board]
length = 700.0
thickness = 24.0
strips = [
  {width = 24.0, wood = "sugar maple"},
  {width = 3.0, wood = "walnut"},
  {width = 11.0, wood = "sugar maple"},
  {width = 3.0, wood = "walnut"},
  {width = 24.0, wood = "sugar maple"},
]
"""


def strips(*pairs: tuple[float, str]) -> str:
    """The override that states these strips, (width, wood) each."""
    return "board.strips=[" + ", ".join(f'{{width = {width}, wood = "{wood}"}}' for width, wood in pairs) + "]"


ONE_SIDED = strips((20.0, "mahogany"), (2.0, "sugar maple"), (12.0, "walnut"), (31.0, "mahogany"))


@cache
def design(*overrides: str, text: str = SISKIN) -> Design:
    return read_text(text, "siskin.toml", overrides)


@cache
def laid_out(*overrides: str, text: str = SISKIN) -> Layout:
    return lay_out(design(*overrides, text=text))


@cache
def built(*overrides: str) -> Parts:
    from neckmodel.solids import build

    return build(laid_out(*overrides))


def places(pairs: Sequence[float]) -> list[float]:
    """y of the seams between strips of these widths, the middle of all on 0."""
    found, at = [], -sum(pairs) / 2
    for width in pairs[:-1]:
        at += width
        found.append(at)
    return found
