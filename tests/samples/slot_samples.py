"""A neck with a slotted head, as a text: invented, for the tests alone."""

from __future__ import annotations

from collections.abc import Sequence

from neckmodel.design import Design, read_text
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.hardware.slots import SlotPair

# the head's numbers are those of the worked example: 64 to 72 wide over 190, slots from 30 to 150, 15 wide, 9 in
PLOVER = """
[design]
name = "plover"
instrument = "nylon-string"
[strings]
courses = 6
scale = 650.0
spacing_at_nut = 43.0
spacing_at_bridge = 58.0
each = [
  {diameter = 1.09, tension = 63.0}, {diameter = 0.89, tension = 68.0}, {diameter = 0.74, tension = 70.0},
  {diameter = 1.02, tension = 54.0}, {diameter = 0.82, tension = 53.0}, {diameter = 0.71, tension = 67.0},
]
[fretboard]
frets = 19
[neck]
joint_fret = 12
reinforcement = "none"
[head]
starts_at = -6.0
angle = 14.0
length = 190.0
outline = {near = 64.0, far = 72.0}
slots = {from = -30.0, to = -150.0, width = 15.0, edge = 9.0, ramp = {length = 14.0, angle = 20.0}}
tuners = [
  {x = -45.0, side = "bass", below_face = 10.0, hole = 10.0},
  {x = -80.0, side = "bass", below_face = 10.0, hole = 10.0},
  {x = -115.0, side = "bass", below_face = 10.0, hole = 10.0},
  {x = -45.0, side = "treble", below_face = 10.0, hole = 10.0},
  {x = -80.0, side = "treble", below_face = 10.0, hole = 10.0},
  {x = -115.0, side = "treble", below_face = 10.0, hole = 10.0},
]
"""
RAMP = ", ramp = {length = 14.0, angle = 20.0}"
ROD = """
[rod]
kind = "two-way"
length = 330.0
width = 5.6
height = 9.0
adjuster = {diameter = 6.8, length = 11.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 6.0}}
[adjusting_key]
kind = "ball-end"
length = 200.0
"""
WITH_ROD = PLOVER.replace('reinforcement = "none"\n', "") + ROD
"""The same neck with a rod that is turned at the head."""


def design(*sets: str, text: str = PLOVER) -> Design:
    return read_text(text, "plover.toml", sets)


def laid_out(*sets: str, text: str = PLOVER) -> Layout:
    return lay_out(design(*sets, text=text))


def slots_of(layout: Layout) -> SlotPair:
    assert layout.slots is not None
    return layout.slots


def with_strings(strings: Sequence[int], text: str = PLOVER) -> str:
    """The text with a stated string for each tuner, as listed."""
    parts = text.split("hole = 10.0}")
    assert len(parts) == len(strings) + 1
    said = [f"hole = 10.0, string = {number}}}" for number in strings]
    return "".join(part + more for part, more in zip(parts, [*said, ""], strict=True))
