"""The keys that tell the two kinds of tuner apart: those that stand on the head's face, and those bored from its
sides."""

from __future__ import annotations

OF_A_SIDE_TUNER = ("side", "below_face", "into_core", "string")
"""Keys that only a tuner bored from the side has."""

OF_A_POST = ("y", "housing", "string_height", "tree")
"""Keys that only a tuner whose post stands on the head's face has."""
