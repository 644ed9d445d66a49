"""Every layer of the drawings. A step of the channel has a layer of its own, named as the step.

Lines that stand in one legend differ in their dashes, or in weight by twice; the kinds of line are those of technical
drawings: full, dashed, dashed with wide gaps, dotted, long and short dashes, long dashes with one dot or more.
"""

from __future__ import annotations

from dataclasses import replace

from neckmodel.layout.channel.step import plain
from neckmodel.sheets.marks.display import Layer

GREY = (0.45, 0.45, 0.45)
BLUE = (0.0, 0.2, 0.6)
RED = (0.7, 0.0, 0.0)
GREEN = (0.0, 0.35, 0.1)
BROWN = (0.45, 0.25, 0.0)

TEXT = Layer("text", 0.18)
FRAME = Layer("frame", 0.25)
RULE = Layer("rules", 0.1, colour=GREY)
BLANK = Layer("blank", 0.5)
BOARD = Layer("board", 0.13, (12.0, 4.0), GREY)
CENTRE = Layer("centre line", 0.13, (8.0, 1.5, 1.0, 1.5), RED)
DATUM = Layer("datum", 0.5, (14.0, 1.2, 0.6, 1.2, 0.6, 1.2), RED)
FRETS = Layer("frets", 0.13, colour=BLUE, group="frets, stations")
SIDE_MARKS = Layer("side marks", 0.3, colour=BLUE)
NUT = Layer("nut", 0.3, (0.3, 0.9), BLUE)
FRETBOARD = Layer("fretboard", 0.18, (6.0, 1.2, 2.4, 1.2), BLUE)
NECK = Layer("finished neck", 0.3, (2.4, 1.2), GREEN)
WOOD = Layer("wood", 0.35, tint=(0.95, 0.91, 0.84), sign="area")
ROD = Layer("rod", 0.13, (1.5, 0.8), GREY, (0.74, 0.76, 0.8), "area", "rod, bars")
BARS = replace(ROD, name="bars")
FLAT_BAR = Layer("rod's flat bar", 0.18, colour=GREY, tint=(0.5, 0.53, 0.58), sign="area")
THREAD = Layer("rod's thread", 0.18, (1.0, 0.6), GREY)
SEAMS = Layer("glue seams", 0.35, (5.0, 1.0, 1.0, 1.0), BROWN)
PIECES = Layer("glued pieces", 0.13, (3.0, 3.0), BROWN)
BODY = Layer("body", 0.18, (9.0, 1.0, 0.6, 1.0, 0.6, 1.0, 0.6, 1.0), GREY)
BORE = Layer("bore in the body", 0.4, (4.5, 0.9, 1.6, 0.9), BROWN)
COVER = Layer("cover strip", 0.13, (2.5, 0.8, 0.4, 0.8), BROWN, (0.96, 0.93, 0.87), "area")
BACK_STRIP = Layer("back strip", 0.18, (2.5, 0.8, 0.4, 0.8), BROWN, (0.96, 0.9, 0.8), "area")
NUT_CUT = Layer("nut", 0.25, tint=(0.8, 0.8, 0.8), sign="area")
BEYOND = Layer("beyond the section", 0.18, (0.6, 0.6), GREY)
KEY = Layer("adjusting key", 0.18, (3.0, 0.8, 0.6, 0.8), BLUE)
HOLE_CUT = Layer("cut out", 0.25, tint=(1.0, 1.0, 1.0), sign="area")
HOUSING = Layer("tuner's housing", 0.18, (4.0, 1.2), GREY)
SCREWS = Layer("screws", 0.18, sign="hole", group="holes")
CLAMP = Layer("clamp", 0.18, (4.0, 0.8, 0.6, 0.8), GREY)
TUNERS = Layer("tuners", 0.18, sign="hole", group="holes")
STATIONS = Layer("stations", 0.13, group="frets, stations")
STOPS = Layer("stop blocks", 0.3, (1.0, 1.0), RED)
HEIGHTS = Layer("sizes", 0.1, colour=GREY)
WALLS = Layer("walls", 0.18, colour=RED)
CORNERS = Layer("corners to square", 0.13, colour=RED, tint=(0.85, 0.55, 0.5))
SCALE = Layer("scale check", 0.18)
REGISTER = Layer("register marks", 0.1)
NOTES = Layer("notes", 0.18)
HEAD = Layer("head", 0.25)
FRETBOARD_CUT = Layer("fretboard", 0.25)  # full: a line that is cut
STRIP = Layer("fretboard behind the nut", 0.25)
SLOTS = Layer("fret slots", 0.18)
JIG = Layer("jig", 0.3)
HIDDEN = Layer("hidden edges", 0.13, (1.6, 0.8), GREY)
SIZES = Layer("dimensions", 0.1, colour=BLUE)
CHANNEL_PEN, CHANNEL_TINT = 0.25, (0.87, 0.87, 0.87)


HEAD_SLOTS = Layer("slots in the head", CHANNEL_PEN, tint=CHANNEL_TINT, sign="area")
RAMPS = Layer("ramps before the slots", 0.13, (1.6, 0.8), GREY)
SIDE_BORES = Layer("bores from the sides", 0.13, (4.0, 0.8, 0.8, 0.8), BROWN)


def of_step(step: str) -> Layer:
    """The layer of a step of the channel."""
    return Layer(plain(step), CHANNEL_PEN, tint=CHANNEL_TINT, sign="area", group="channel")


def of_template(step: str) -> Layer:
    """The layer of the template's opening for a step."""
    return Layer(f"template {plain(step)}", CHANNEL_PEN)
