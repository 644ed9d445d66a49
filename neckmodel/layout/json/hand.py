"""Turns the layout's data for a left-handed neck: every value that points across the neck changes its sign."""

from __future__ import annotations

SLOPES = ("slope", "slope_nut", "slope_joint", "slope_bridge", "skew")
ACROSS = frozenset(
    ("y", "y_nut", "y_bridge", "y_end", "deepest_y", "y_bass", "y_treble", "off_at_bridge", *SLOPES)
)  # toward the treble side
IN_PLAN = frozenset(("start", "end", "edge_bass", "edge_treble", "outline", "holes"))  # points (x, y), however nested


def left_handed(data: object) -> object:
    """The data with treble and bass side exchanged in space. Names such as `x_bass` stay with their string."""
    if isinstance(data, dict):
        return {key: _turned(key, value) for key, value in data.items()}
    return [left_handed(item) for item in data] if isinstance(data, list) else data


def _turned(key: str, value: object) -> object:
    if key in ACROSS and isinstance(value, int | float):
        return -value + 0.0
    return _points(value) if key in IN_PLAN else left_handed(value)


def _points(value: object) -> object:
    if isinstance(value, list) and len(value) == 2 and not isinstance(value[0], list):
        return [value[0], -value[1] + 0.0]
    return [_points(item) for item in value] if isinstance(value, list) else value
