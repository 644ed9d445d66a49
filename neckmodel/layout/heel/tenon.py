"""A glued tenon beyond the joint."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tenon:
    """A glued tenon from the joint to the wood's end, its cheeks upright, its bottom level, mm."""

    half_width: float
    depth: float
