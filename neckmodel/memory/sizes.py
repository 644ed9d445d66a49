"""How many bytes a result takes, estimated: arrays by their own count, all else by its fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass

SMALL = 64  # bytes of a number, a short text, an object's head
OTHER = 4096  # bytes of an object that does not tell


def bytes_of(value: object) -> int:
    """Estimated bytes of a value: exact enough to keep memory within bounds, never asked for more."""
    if value is None or isinstance(value, str | int | float):
        return SMALL
    if hasattr(value, "nbytes"):
        return SMALL + int(value.nbytes)
    if isinstance(value, Mapping):
        return SMALL + sum(map(bytes_of, value.values()))
    if isinstance(value, tuple | list | frozenset):
        return SMALL + sum(map(bytes_of, value))
    if is_dataclass(value):
        return SMALL + sum(bytes_of(getattr(value, field.name)) for field in fields(value))
    return OTHER
