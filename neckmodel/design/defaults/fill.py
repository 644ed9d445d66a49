"""Puts defaults into the raw tables of a file wherever the file states nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from neckmodel.design.values.keys import Facts, OfItem
from neckmodel.design.values.kinds import Mm


def fill(
    raw: Mapping[str, object],
    defaults: Mapping[str, object],
    optional: tuple[str, ...],
    instead: Mapping[str, tuple[str, ...]],
) -> dict[str, object]:
    """A copy of the raw tables with every missing default filled in. The lengths filled in are of type `Mm`.

    optional: tables that are completed only where the file has them. instead: for a key, the other keys that say the
    same; where the file states one of those, no default is filled in.
    """
    full = copied(raw)
    facts = Facts(full)
    for key, default in defaults.items():
        if any(facts.has(other) for other in instead.get(key, ())):
            continue
        for table, last in _tables(full, key.split("."), optional):
            if last not in table:
                of = Facts(table, facts.unit) if isinstance(default, OfItem) else facts
                value = default(of) if callable(default) else default
                if value is not None:
                    table[last] = _in_mm(value)
    return full


def _tables(
    full: dict[str, object], parts: list[str], optional: tuple[str, ...]
) -> Iterator[tuple[dict[str, object], str]]:
    """Every table that the key's last part belongs in, each with that last part: none, one, or one for each item of
    a list."""
    here: list[dict[str, object]] = [full]
    for depth, part in enumerate(parts[:-1]):
        below: list[object] = []
        for table in here:
            found = table.get(part)
            if part == "*":
                continue
            if found is None and ".".join(parts[: depth + 1]) not in optional and "*" not in parts:
                found = table[part] = {}
            below.append(found)
        if depth + 1 < len(parts) - 1 and parts[depth + 1] == "*":
            below = [item for listed in below if isinstance(listed, list) for item in listed]
        if part != "*":
            here = [table for table in below if isinstance(table, dict)]
    for table in here:
        yield table, parts[-1]


def _in_mm(value: object) -> object:
    if isinstance(value, list):
        return [_in_mm(item) for item in value]
    if isinstance(value, dict):
        return {key: _in_mm(item) for key, item in value.items()}
    return Mm(value) if isinstance(value, float) else value


def copied(value: Mapping[str, object]) -> dict[str, object]:
    """A deep copy of raw tables and the lists in them."""
    return {key: _copy(item) for key, item in value.items()}


def _copy(value: object) -> object:
    if isinstance(value, dict):
        return copied(value)
    return [_copy(item) for item in value] if isinstance(value, list) else value
