"""The plain six-string neck that many tests complete and vary, as the text of a design file."""

from __future__ import annotations

NECK = """
[design]
name = "plain"
[strings]
courses = 6
scale = 640.0
spacing_at_nut = 36.0
spacing_at_bridge = 52.0
[fretboard]
frets = 22
past_last_fret = 8.0
edge_margin = 3.5
[neck]
joint_fret = 16
thickness = {fret_1 = 21.0, fret_12 = 23.0}
"""
