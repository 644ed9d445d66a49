"""One colour for each kind of part: plain woods, metals and bone. Colours tell parts apart and mean nothing more."""

from __future__ import annotations

from neckmodel.solids.parts import Colour

# sRGB, 0 to 1; by the part's name without its number
COLOURS: dict[str, Colour] = {
    "board": (0.87, 0.78, 0.62),
    "blank": (0.85, 0.74, 0.56),
    "neck": (0.82, 0.68, 0.48),
    "head-piece": (0.76, 0.62, 0.43),
    "heel-block": (0.78, 0.66, 0.47),
    "heel-cap": (0.30, 0.22, 0.17),
    "wing": (0.72, 0.57, 0.38),
    "body-wing": (0.66, 0.50, 0.34),
    "fretboard": (0.36, 0.23, 0.17),
    "nut-strip": (0.36, 0.23, 0.17),
    "nut": (0.93, 0.91, 0.85),
    "rod": (0.55, 0.57, 0.60),
    "washer": (0.74, 0.75, 0.76),
    "back-strip": (0.45, 0.31, 0.21),
    "cover-strip": (0.70, 0.52, 0.33),
    "adjusting-key": (0.30, 0.31, 0.33),
    "bar": (0.20, 0.21, 0.22),
    "screw": (0.72, 0.70, 0.64),
    "insert": (0.78, 0.65, 0.36),
    "dowel": (0.76, 0.60, 0.40),
    "tuner": (0.66, 0.67, 0.69),
    "clamp": (0.42, 0.44, 0.47),
    "clamp-screw": (0.72, 0.70, 0.64),
}


def colour_of(part: str) -> Colour:
    """The colour of a part by its name, with or without a number: "bar-2" has the colour of "bar". KeyError for an
    unknown name."""
    kind, dash, number = part.rpartition("-")
    return COLOURS[kind if dash and number.isdigit() else part]
