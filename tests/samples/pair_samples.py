"""Necks with two rods, as texts: invented, for the tests alone."""

from __future__ import annotations

from neckmodel.design import Design, read_text

# a wide neck of nine strings over two rods, the sizes of the values that are worked out by hand
GREENSHANK = """
[design]
name = "greenshank"
[strings]
courses = 9
scale = 640.0
spacing_at_nut = 60.0
spacing_at_bridge = 84.0
[fretboard]
frets = 22
past_last_fret = 8.0
thickness = 6.0
edge_margin = 3.6
radius = 400.0
[neck]
joint_fret = 16
thickness = {fret_1 = 21.5, fret_12 = 23.5}
back = {family = "C", fullness = 2.2}
[heel]
kind = "bolted"
depth = 22.0
[head]
kind = "stepped"
drop = 10.0
[rod]
kind = "two-way"
count = 2
offset = 9.0
adjuster_at = "head"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[rod_place]
from_nut = 18.0
"""

# the same neck with one rod, on the centre line
ONE = GREENSHANK.replace("count = 2\noffset = 9.0\n", "")

KEY = """
[adjusting_key]
kind = "straight"
size = 4.0
length = 190.0
"""

CUTTERS = """
[workshop]
router_base = 75.0
guide_bush = 16.0
cutters = [
  {diameter = 3.0, flute_length = 12.0, stick_out = 34.0},
  {diameter = 4.0, flute_length = 16.0, stick_out = 40.0},
  {diameter = 6.0, flute_length = 20.0, stick_out = 40.0},
]
"""

# the same neck over two scale lengths: nut, joint and end slant past each rod by another amount
FAN = GREENSHANK.replace("scale = 640.0", "scale = {bass = 686.0, treble = 648.0, square_fret = 8}")


# two compression rods, each under its strip
FERN_PAIR = (
    GREENSHANK[: GREENSHANK.index("[rod]")]
    + """\
[rod]
kind = "compression"
count = 2
offset = 11.0
adjuster_at = "head"
length = 420.0
diameter = 5.0
adjuster = {diameter = 8.0, length = 12.0, socket = {kind = "hex", size = 5.0, depth = 6.0}}
anchor = {length = 12.0, width = 8.0, height = 8.0}
axis_depth = {adjuster = 5.6, middle = 8.6, anchor = 5.6}
washer = {diameter = 9.0, thickness = 1.5}
cover_strip = {thickness = 8.0, wood = "maple"}
[adjusting_key]
kind = "ball-end"
size = 5.0
length = 200.0
[rod_place]
from_nut = 6.0
[channel]
wider_by = 0.2
deeper_by = 0.15
"""
)

# nine strings for [strings], by their tension
STRINGS = "each = [\n" + "  {diameter = 0.6, tension = 55.0},\n" * 9 + "]\n"


def pair(*overrides: str, text: str = GREENSHANK, more: str = "") -> Design:
    """The neck with two rods; more: further tables."""
    return read_text(text + more, "greenshank.toml", overrides)
