"""Remedies are tried on the layout before they are told: what cannot be laid out is no remedy."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

from neckmodel.checks.file_unit import in_file_unit
from neckmodel.checks.frozen import frozen, puts_back, replacing
from neckmodel.design import Design, changed, known
from neckmodel.design.facts import look_up, split
from neckmodel.errors import DesignError
from neckmodel.findings import Remedy
from neckmodel.layout import lay_out
from neckmodel.units import to_mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout

Settings = Mapping[str, float | str]

NEUTRAL = 0.05  # the size of a change from one word to another, beside lengths changed by a share of themselves


def as_set(design: Design, settings: Settings) -> dict[str, float | str]:
    """Settings in mm as `--set` takes them for this design's file: in a file in inches a length carries its unit."""
    if design.design.units == "mm":
        return dict(settings)
    return {key: _with_unit(design, key, value) for key, value in settings.items()}


def _with_unit(design: Design, key: str, value: float | str) -> float | str:
    return in_file_unit(design, key, value) if _is_length(design, key) and not isinstance(value, str) else value


def _is_length(design: Design, key: str) -> bool:
    path = split(key)
    field = known.field_at(type(design), path)
    return path[0] == "measured" or (field is not None and known.is_length(field))


def tried(design: Design, settings: Settings) -> Layout | None:
    """The layout with these settings, lengths in mm; None where it is refused, or where they change what is cut."""
    try:
        before = lay_out(design) if design.measured else None
        settings = settings if before is None else replacing(before, settings)
        if frozen(design, settings):
            return None
        after = lay_out(changed(design, as_set(design, settings)))
    except DesignError:
        return None
    return None if before is not None and puts_back(before, after) else after


def _any(layout: Layout) -> bool:  # noqa: ARG001 - that it can be laid out is enough
    return True


def first_good(design: Design, remedies: Iterable[Remedy], good: Callable[[Layout], bool] = _any) -> Remedy | None:
    """The first remedy that can be laid out and then is `good`."""
    for remedy in remedies:
        layout = tried(design, remedy.set)
        if layout is not None and good(layout):
            return remedy
    return None


def either(*remedies: Remedy) -> Remedy:
    """One remedy, offered with others that do as well."""
    ways = tuple(way for remedy in remedies for way in ways_of(remedy))
    return ways[0] if len(ways) == 1 else Remedy(", or ".join(way.says for way in ways), ways[0].set, ways)


def settings_say(design: Design, settings: Settings) -> str:
    """Settings in words: each key with its value, lengths with their unit."""
    return ", ".join(f"{key} = {_worded(design, key, value)}" for key, value in settings.items())


def _worded(design: Design, key: str, value: float | str) -> str:
    if not _is_length(design, key):
        return str(value)
    try:
        return f"{to_mm(value, 'mm'):.2f} mm"
    except ValueError:  # a word, as "auto"
        return f'"{value}"'


def ways_of(remedy: Remedy | None) -> tuple[Remedy, ...]:
    """Each change that a remedy offers, by itself."""
    return () if remedy is None else remedy.ways or (remedy,)


def size_of(design: Design, settings: Settings) -> float:
    """How large a change is: the sum of its values' changes, each as a share of what it was."""
    stated = design.model_dump(by_alias=True)
    return sum(_change(look_up(stated, split(key)), value) for key, value in settings.items())


def _change(before: object, after: float | str) -> float:
    if not isinstance(before, int | float):
        return NEUTRAL
    try:
        number = to_mm(after, "mm")
    except ValueError:
        return NEUTRAL
    return abs(number - before) / max(abs(before), 1.0)
