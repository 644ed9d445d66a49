"""Necks without a head, as texts: invented, for the tests alone."""

from __future__ import annotations

# six strings, the rod turned from the nut end, a clamp with two screws
SMEW = """
[design]
name = "smew"
[strings]
courses = 6
scale = 640.0
spacing_at_nut = 35.4
spacing_at_bridge = 52.5
each = [
  {note = "E2", diameter = 1.17, mass_per_length = 7.2},
  {note = "A2", diameter = 0.91, mass_per_length = 4.15},
  {note = "D3", diameter = 0.66, mass_per_length = 2.27},
  {note = "G3", diameter = 0.43, material = "steel"},
  {note = "B3", diameter = 0.33, material = "steel"},
  {note = "E4", diameter = 0.254, material = "steel"},
]
[fretboard]
frets = 24
edge_margin = 3.6
radius = {nut = 280.0, end = 360.0}
[neck]
joint_fret = 16
thickness = {fret_1 = 20.5, fret_12 = 22.5}
[heel]
screws = [
  {from_end = 15.0, y = -17.0, diameter = 4.5, length = 45.0, kind = "wood-screw"},
  {from_end = 15.0, y = 17.0, diameter = 4.5, length = 45.0, kind = "wood-screw"},
]
[head]
kind = "none"
end = {length = 34.0, thickness = 17.0, width = 44.0}
[head.clamp]
length = 26.0
width = 42.0
height = 12.0
screws = [
  {x = -20.0, y = -13.0, diameter = 4.0, depth = 12.0},
  {x = -20.0, y = 13.0, diameter = 4.0, depth = 12.0},
]
[rod]
kind = "two-way"
adjuster_at = "head"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[adjusting_key]
kind = "straight"
length = 120.0
engaged_depth = 4.0
[rod_place]
from_nut = 7.0
[board]
length = 640.0
width = 65.0
thickness = 24.0
[workshop]
cutters = [
  {diameter = 4.0, flute_length = 16.0, stick_out = 36.0},
  {diameter = 6.0, flute_length = 22.0, stick_out = 38.0},
]
router_base = 75.0
guide_bush = 16.0
"""

AT_HEEL = (
    'rod.adjuster_at="heel"',
    "rod.length=425",
    "rod_place.from_nut=12",
    'adjusting_key.kind="straight"',
)
"""Settings with which its rod is turned at the heel instead."""
