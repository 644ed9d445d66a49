"""A neck's two sides and the two ways along it: in the layout y grows toward the treble side, x toward the body."""

from __future__ import annotations

from enum import StrEnum


class Side(StrEnum):
    """A side of the neck."""

    BASS = "bass"
    TREBLE = "treble"

    @property
    def other(self) -> Side:
        """The opposite side."""
        return Side.BASS if self == Side.TREBLE else Side.TREBLE


SIGNS = ((Side.BASS, -1), (Side.TREBLE, 1))
"""Each side with the sign of y there."""


def side_at(y: float) -> Side:
    """The side on which y lies; on the centre line, bass."""
    return Side.TREBLE if y > 0 else Side.BASS


class Toward(StrEnum):
    """A way along the neck, and the end of it that lies there."""

    HEAD = "head"
    BODY = "body"

    @property
    def other(self) -> Toward:
        """The opposite direction."""
        return Toward.BODY if self == Toward.HEAD else Toward.HEAD
