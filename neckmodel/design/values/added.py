"""Keys that came to the tables later: where such a key is left out, a design's content is what it was without it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path, dotted


class Added:
    """Marks a key as one that came later. It stands beside the kind of its value."""


ADDED = Added()


def without_added(
    content: dict[str, Any], tables: fields.Tables, default: Callable[[str], object], path: Path = ()
) -> dict[str, Any]:
    """Plain data of a design, or of a part of it, less the later keys that hold nothing or their default.

    content: as dumped; tables: what it may be; default: gives that of a dotted key, None where it has none.
    """
    known, kept = fields.fields(tables), {}
    for name, value in content.items():
        field, here = known.get(name), (*path, name)
        if field is not None and ADDED in field.metadata and value in (None, [], default(dotted(here))):
            continue
        inner = fields.below(tables, name)
        if isinstance(value, dict):
            value = without_added(value, inner, default, here)
        elif isinstance(value, list) and inner:
            value = [without_added(v, inner, default, here) if isinstance(v, dict) else v for v in value]
        kept[name] = value
    return kept
