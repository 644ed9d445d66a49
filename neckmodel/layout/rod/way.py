"""Which way a two-way rod of a flat bar and a thread lies, and what a turn then does, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design.tables.rod import RodWay

LIES: dict[RodWay, str] = {"up": "up, toward the fretboard", "down": "down, toward the back"}
THREAD: dict[RodWay, str] = {"up": "below", "down": "above"}
"""Where the thread lies, by where the flat bar does."""


def bar_words(way: RodWay) -> str:
    """Where the flat bar and the thread lie."""
    return f"its flat bar {LIES[way]}, and the thread {THREAD[way]} it"


def turned_words(way: RodWay) -> str:
    """What a turn does, as a sentence without its end. A shorter thread draws its own side of the rod hollow; that
    clockwise shortens it is common practice, a right-hand thread."""
    does, other = ("takes relief away", "adds relief") if way == "up" else ("adds relief", "takes it away")
    return f"Its flat bar lies {way}: clockwise the adjuster shortens the thread and {does}, anticlockwise it {other}"
