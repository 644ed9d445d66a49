"""Looks up, by path, what the tables of a design file define: keys, descriptions and kinds of value."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import get_args

from pydantic.fields import FieldInfo

from neckmodel.design.values.keys import Path
from neckmodel.design.values.kinds import Length, Spreading, Table

Tables = tuple[type[Table], ...]
_KEPT = 4096  # answers that are remembered: the tables never change, and every reading of a file asks the same


def _tables_in(annotation: object) -> Tables:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return (annotation,)
    return tuple(table for part in get_args(annotation) for table in _tables_in(part))


@lru_cache(_KEPT)
def fields(tables: Tables) -> Mapping[str, FieldInfo]:
    """Every key that one of these tables takes, as written in the file."""
    return MappingProxyType(
        {field.alias or name: field for table in tables for name, field in table.model_fields.items()}
    )


@lru_cache(_KEPT)
def below(tables: Tables, part: str | int) -> Tables:
    """The tables that the value under a key may be; for a list, the tables of its items."""
    if isinstance(part, int):
        return tables
    field = fields(tables).get(part)
    if field is None:
        return tuple(table.of_each for table in tables if table.of_each is not None)
    return _tables_in(field.annotation)


def tables_at(root: type[Table], path: Path) -> Tables:
    """The tables that the value at a path may be."""
    tables: Tables = (root,)
    for part in path:
        tables = below(tables, part)
    return tables


def field_at(root: type[Table], path: Path) -> FieldInfo | None:
    """The field that a path names, also inside a table that has a short form (`strings.scale.bass`)."""
    names = tuple(part for part in path if isinstance(part, str))
    if not names:
        return None
    return fields(tables_at(root, names[:-1])).get(names[-1])


def is_length(field: FieldInfo) -> bool:
    """Whether a field holds a length."""
    return any(isinstance(kind, Length) for kind in (*field.metadata, *_kinds_in(field.annotation)))


@lru_cache(_KEPT)
def length_at(root: type[Table], path: Path) -> Length | None:
    """The kind of length at this path, also inside a table that has a short form; None where it is no length."""
    if path[:1] == ("measured",):
        path = path[1:]
    field = field_at(root, path)
    if field is None:
        return None
    for kind in kinds(field):
        forms = kind.short if isinstance(kind, Spreading) else (kind,)
        found = next((form for form in forms if isinstance(form, Length)), None)
        if found is not None:
            return found
    return None


def kinds(field: FieldInfo) -> tuple[object, ...]:
    """What kinds of value a field holds, as its annotations name them."""
    return (*field.metadata, *_kinds_in(field.annotation))


def _kinds_in(annotation: object) -> Iterable[object]:
    yield from getattr(annotation, "__metadata__", ())
    for part in get_args(annotation):
        yield from _kinds_in(part)
