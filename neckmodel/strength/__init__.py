"""Estimates of a neck's strength: strings, sections, relief, rod, stress, moisture. numpy only."""

from __future__ import annotations

from neckmodel.strength.estimate import Range, Strength, estimate, missing
from neckmodel.strength.materials.woods import WOODS, Wood, find_wood

__all__ = ["WOODS", "Range", "Strength", "Wood", "estimate", "find_wood", "missing"]
