"""A tint for each wood of a board of strips, near what the wood looks like. Tints tell strips apart and mean
nothing more; drawings say the wood in words and hatch it too."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.layout.wood.strips import Strip

Colour = tuple[float, float, float]
"""sRGB, 0 to 1."""

# by a word of the wood's name
_LIKE: dict[str, Colour] = {
    "maple": (0.87, 0.75, 0.55),
    "walnut": (0.45, 0.31, 0.21),
    "mahogany": (0.62, 0.36, 0.24),
    "khaya": (0.62, 0.36, 0.24),
    "sapele": (0.56, 0.31, 0.20),
    "cherry": (0.72, 0.46, 0.30),
    "ash": (0.85, 0.77, 0.64),
    "birch": (0.88, 0.80, 0.66),
    "beech": (0.80, 0.62, 0.46),
    "oak": (0.74, 0.58, 0.38),
    "wenge": (0.30, 0.22, 0.17),
    "ebony": (0.19, 0.16, 0.15),
    "rosewood": (0.40, 0.24, 0.19),
    "bubinga": (0.60, 0.30, 0.22),
    "purpleheart": (0.44, 0.22, 0.36),
    "cedar": (0.66, 0.42, 0.28),
    "poplar": (0.76, 0.74, 0.54),
}
_OTHERS: tuple[Colour, ...] = ((0.70, 0.56, 0.42), (0.52, 0.42, 0.30), (0.80, 0.70, 0.52), (0.38, 0.30, 0.24))


def woods_in(strips: Sequence[Strip]) -> tuple[str, ...]:
    """The woods of the strips, each once, in the order in which they come from the bass side."""
    return tuple(dict.fromkeys(strip.wood for strip in strips))


def tints_of(strips: Sequence[Strip]) -> dict[str, Colour]:
    """A tint for each wood, no two alike as far as the list of others reaches."""
    found: dict[str, Colour] = {}
    for wood in woods_in(strips):
        words = wood.lower().replace("-", " ").split()
        wished = [colour for word, colour in _LIKE.items() if word in words]
        free = [colour for colour in (*wished, *_OTHERS) if colour not in found.values()]
        found[wood] = free[0] if free else _OTHERS[len(found) % len(_OTHERS)]
    return found
