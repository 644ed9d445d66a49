"""Design files that between them state every section and key; much of it nothing builds yet."""

from __future__ import annotations

from pathlib import Path

FIRST = (Path(__file__).parent / "whinchat.toml").read_text(encoding="utf-8")

# the other way to say what can be said in one of two ways
SECOND_EDITS = (
    ("past_last_fret = 9.0", "ends_at = 480.0"),
    ("width = 58.0", "width = {joint = 58.0, cap = 34.0}"),
    ("edge_margin = {nut = 3.2, last_fret = 3.9}", "width = {nut = 42.0, end = 56.0}"),
    ("outline = {near = 50.0, far = 66.0}", 'outline = {file = "head.svg", layer = "cut"}'),
    ('scale = {bass = 660.0, treble = "25.5 in", square_fret = 8}', 'scale = "25.5 in"'),
    ('radius = "12 in"', 'radius = "flat"'),
    ('back = {fret_1 = {family = "soft-V", fullness = 1.8, lean = 1.0}, fret_12 = "D"}', 'back = "U"'),
    (
        'kind = "compression"',
        'kind = "two-way"\nbar = "up"\ncount = 2\noffset = 9.0',
    ),  # a compression rod does not bow while it is bare
    ("segments = [{length = 30.0", "segments = [{length = 348.0"),
    ("[calibration]", "[calibration]\nrod_bow_per_turn = 4.0"),
)


def second() -> str:
    text = FIRST
    for was, becomes in SECOND_EDITS:
        assert text.count(was) == 1
        text = text.replace(was, becomes)
    return text


# what cannot stand beside a rod, or beside frets
THIRD = """
[design]
name = "whinchat"
[strings]
courses = 6
scale = 650.0
[fretboard]
fretless = "lined"
fret_slot = {width = 0.6, depth = 2.0, floor = "curved", filler = "holly"}
[neck]
joint_fret = 12
reinforcement = "none"
[board]
length = 900.0
thickness = 60.0
strips = [{width = 40.0, wood = "maple"}, {width = 2.0, wood = "walnut"}, {width = 40.0, wood = "maple"}]
[head]
kind = "angled"
length = 190.0
outline = {near = 64.0, far = 72.0}
slots = {from = -30.0, to = -150.0, width = 15.0, edge = 9.0, ends = "squared", ramp = {length = 14.0, angle = 20.0}}
tuners = [{x = -45.0, side = "bass", below_face = 10.0, hole = 10.0, into_core = 6.0, string = 2}]
[limits]
strength_relief = 0.4
stock_seams = 0.6
head_cheek = 8.5
head_core = 17.0
head_bores = 3.5
head_ramp = 0.6
wall = {clamp_screw = 3.5}
"""

# what cannot stand beside a head
HEADLESS = """
[design]
name = "whinchat"
[strings]
courses = 6
scale = 650.0
[fretboard]
[neck]
joint_fret = 12
reinforcement = "none"
[head]
kind = "none"
end = {length = 40.0, thickness = 24.0, width = 60.0}
clamp = {length = 30.0, width = 50.0, height = 14.0, screws = [{x = -20.0, y = 16.0, diameter = 4.0, depth = 15.0}]}
"""

# a rod put in from the back, whose strip is no cover strip
FOURTH = """
[design]
name = "whinchat"
[strings]
courses = 6
scale = 650.0
[fretboard]
frets = 22
in_one = true
[neck]
joint_fret = 16
[rod]
kind = "two-way"
adjuster_at = "head"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[channel]
cut_from = "back"
back_strip = {wood = "walnut", width = 9.0}
[limits]
wall = {top = 2.5}
cover_back_strip = 2.8
"""

# a string that starts later, which goes with one scale length, frets and an edge margin
LATER = """
[design]
name = "whinchat"
[strings]
courses = 5
scale = 670.0
spacing_at_nut = 38.0
each = [
  {diameter = 0.25, starts_at_fret = 5, peg = {from = "back", x = 160.0, y = -9.0, hole = 8.0, depth = 9.0}},
  {note = "D3", diameter = 0.56},
  {note = "G3", diameter = 0.41},
  {note = "B3", diameter = 0.3},
  {note = "D4", diameter = 0.25},
]
[fretboard]
step_at_fret = 4
step_length = 15.0
[neck]
joint_fret = 16
reinforcement = "none"
[limits]
wall = {peg = 2.5}
"""
LATER_SIDE = LATER.replace('from = "back", x = 160.0, y = -9.0', 'from = "side", x = 160.0, below = 7.5')
