"""Puts the lengths measured at the bench in place of the planned ones, before defaults are filled in and values
checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from neckmodel.design.defaults.defaults import OPTIONAL
from neckmodel.design.defaults.fill import copied
from neckmodel.design.design import Design
from neckmodel.design.file.source import Source
from neckmodel.design.reading.settings import put, take_out_other
from neckmodel.design.tables.measured import SECTIONS, leaves
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path, look_up, split
from neckmodel.errors import Problem

Origin = Literal["stated", "derived", "measured"]


@dataclass(frozen=True)
class Number:
    """A length of a design, mm, and its type: stated in the file, derived (from other values or a default), or
    measured. planned: the length that a measured one replaces."""

    key: str
    value: float
    origin: Origin
    planned: float | None = None


def over_plan(source: Source) -> Source:
    """The source with each planned length replaced by the measured one, where there is one."""
    raw = copied(source.raw)
    paths = tuple(path for path, _ in _measured(source))
    for path, value in _measured(source):
        put(raw, path, value)
        take_out_other(raw, path)
    return source.built(raw, paths)


def misplaced(source: Source) -> Iterator[Problem]:
    """A problem for each measured length of a part that the design does not have."""
    for path, _ in _measured(source):
        part = str(path[0])
        if part in OPTIONAL and part not in source.raw:
            yield source.problem(("measured", *path), f"there is no [{part}] in this design", attempt="leave it out")


def _measured(source: Source) -> Iterator[tuple[Path, object]]:
    for path, value in leaves((), source.raw.get("measured")):
        if path and path[0] in SECTIONS:
            yield path, value


def numbers(design: Design) -> tuple[Number, ...]:
    """Every length of the parts that can be measured, in the order of the design's tables."""
    planned = dict(_lengths(design.plan))
    measured = {split(key) for key, _ in design.measured or ()}
    found = []
    for path, value in _lengths(design):
        key = ".".join(str(part) for part in path)
        if path in measured:
            found.append(Number(key, value, "measured", planned.get(path)))
        else:
            found.append(Number(key, value, "stated" if _stated(design, path) else "derived"))
    return tuple(found)


def _stated(design: Design, path: Path) -> bool:
    """Whether the key is stated itself, or through a short form that stands for its whole table."""
    raw = design.plan.source.raw
    for depth in range(2, len(path) + 1):
        value = look_up(raw, path[:depth])
        if value is not None and (depth == len(path) or not isinstance(value, dict | list)):
            return True
    return False


def _lengths(design: Design) -> Iterator[tuple[Path, float]]:
    for path, value in leaves((), design.model_dump(by_alias=True, include=set(SECTIONS))):
        field = fields.field_at(Design, path)
        if isinstance(value, float) and field is not None and fields.is_length(field):
            yield path, value


WORTH_SAYING = 0.005  # mm off the plan; a smaller difference is neither mentioned nor cut again


def is_measured(design: Design, key: str) -> bool:
    """Whether the length of this key was measured: the wood it describes has then been cut."""
    return any(key == measured for measured, _ in design.measured or ())


def off_plan(measured: Iterable[Number]) -> list[Number]:
    """Those measured lengths that differ from the plan by enough to mention, or that the plan does not have."""
    return [n for n in measured if n.planned is None or abs(n.value - n.planned) > WORTH_SAYING]


def in_words(number: Number) -> str:
    """A measured length in words, with the planned one beside it."""
    planned = "" if number.planned is None else f", planned {number.planned:.2f} mm"
    return f"{number.key} = {number.value:.2f} mm{planned}"
