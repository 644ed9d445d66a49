"""Stand-ins that the tests of rods share: one neck for each kind of rod, every number the workshop's own."""

from __future__ import annotations

import numpy as np
from plain_neck import NECK

from neckmodel.design import Design, read_text

FERN = """
[rod]
kind = "compression"
adjuster_at = "head"
length = 360.0
diameter = 5.0
adjuster = {diameter = 8.0, length = 12.0, socket = {kind = "hex", size = 5.0, depth = 6.0}}
anchor = {length = 12.0, width = 8.0, height = 8.0}
axis_depth = {adjuster = 6.0, middle = 9.5, anchor = 6.0}
washer = {diameter = 10.0, thickness = 1.5}
cover_strip = {thickness = 8.0, wood = "maple"}

[adjusting_key]
kind = "ball-end"
size = 5.0
length = 150.0

[rod_place]
from_nut = 4.0
past_joint = 5.0

[channel]
wider_by = 0.2
deeper_by = 0.15
"""

TUNERS = "".join(
    f"  {{x = {x}, y = {y}, hole = 10.0, housing = {{length = 24.0, width = 16.0}}}},\n"
    for y in (-16.0, 16.0)
    for x in (-45.0, -85.0, -125.0)
)

# wheatear, its tenon and scarf left out: a bolted heel that ends where the tenon would, an angled head of one piece
ACOUSTIC = f"""
[design]
name = "stand-in"
[strings]
courses = 6
scale = 642.0
spacing_at_nut = 36.2
spacing_at_bridge = 54.0
[fretboard]
frets = 20
past_last_fret = 8.0
thickness = 6.0
edge_margin = 3.6
radius = 380.0
[neck]
joint_fret = 14
thickness = {{fret_1 = 21.5, fret_12 = 23.5}}
[heel]
kind = "bolted"
wood_ends_at = 376.02
depth = 24.0
[head]
kind = "angled"
angle = 14.0
thickness = 14.5
swell_length = 40.0
tuners = [
{TUNERS}]
[workshop]
cutters = [
  {{diameter = 4.0, flute_length = 16.0, stick_out = 40.0}},
  {{diameter = 5.0, flute_length = 20.0, stick_out = 40.0}},
]
"""

# whimbrel, with two scale lengths or one
SEVEN = """
[design]
name = "stand-in"
[strings]
courses = 7
scale = {scale}
spacing_at_nut = 48.0
spacing_at_bridge = 63.0
[fretboard]
frets = 24
ends_at = 510.0
thickness = 6.0
edge_margin = 3.5
radius = {{nut = 400.0, end = 500.0}}
[neck]
joint_fret = 19
thickness = {{fret_1 = 19.8, fret_12 = 21.4}}
back = {{family = "C", fullness = 2.2}}
[heel]
kind = "bolted"
wood_ends_at = 510.0
depth = 19.0
[head]
kind = "stepped"
drop = 10.0
thickness = 14.0
[workshop]
cutters = [
  {{diameter = 4.0, flute_length = 16.0, stick_out = 40.0}},
  {{diameter = 6.0, flute_length = 20.0, stick_out = 40.0}},
]
"""
TWO_SCALES = "{bass = 680.0, treble = 648.0, square_fret = 9}"

SEDGE = """
[rod]
kind = "two-way"
adjuster_at = "heel"
length = 496.0
width = 6.0
height = 9.2
block = {length = 12.0}
anchor = {length = 12.0}
[rod.adjuster]
diameter = 14.0
length = 11.0
wheel = 9.0
axis_below_top = 4.6
socket = {kind = "spokes", size = 4.0, depth = 5.0, holes = 8}

[adjusting_key]
kind = "bar"
size = 3.9
length = 90.0

[rod_place]
from_nut = 24.5
"""

# the joint and the wood's end of many printed values
PLAIN = (
    NECK
    + """\
[heel]
wood_ends_at = 468.406
"""
)

HEX_AT_HEEL = """
[rod]
kind = "two-way"
adjuster_at = "heel"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
block = {length = 12.0}
anchor = {length = 9.0, width = 8.0}
[rod_place]
from_nut = 20.0
"""

ODD = """
[rod]
kind = "one-way"
adjuster_at = "head"
length = 420.0
width = 8.0
height = 7.0
adjuster = {diameter = 6.0, length = 10.0, axis_below_top = 3.5, socket = {kind = "hex", size = 4.0, depth = 5.0}}
segments = [
  {length = 15.0, width = 9.5, height = 8.0, top = 0.0},
  {length = 330.0, width = 8.0, height = 7.0, top = 0.5},
  {length = 40.0, width = 10.0, height = 6.0, top = 1.0},
  {length = 25.0, width = 8.0, height = 8.5, top = 0.0},
]
[rod_place]
from_nut = 12.0
"""

STRAIGHT = '[adjusting_key]\nkind = "straight"\nsize = 4.0\nlength = 120.0\n'

L_KEY = '[adjusting_key]\nkind = "L-key"\nsize = 4.0\nshort_arm = 29.0\nlong_arm = 74.0\n'


def acoustic(*overrides: str, rod: str = FERN) -> Design:
    return read_text(ACOUSTIC + rod, "acoustic", overrides)


def seven(*overrides: str, scale: str = TWO_SCALES, rod: str = SEDGE) -> Design:
    return read_text(SEVEN.format(scale=scale) + rod, "seven", overrides)


def plain(rod: str, *overrides: str) -> Design:
    return read_text(PLAIN + rod, "plain", overrides)


def brute_wall(half_width: float, depth: float, exponent: float, half_channel: float, floor: float) -> float:
    """Least distance from a channel's floor and sides to the back `|y/a|**p + |z/b|**p = 1`, by 20,001 points of it."""
    y = half_width * (1 - np.linspace(1.0, 0.0, 20001) ** 3)
    below = depth * (1 - (y / half_width) ** exponent) ** (1 / exponent) - floor
    beside = np.maximum(y - half_channel, 0.0)
    assert below[0] > 0
    return float(np.hypot(beside, np.maximum(below, 0.0)).min())
