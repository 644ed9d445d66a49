"""Makes remedies. Each is tried on the layout first: a change that cannot be laid out is no remedy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.fixed import changes_measured, puts_back, replacing
from neckmodel.checks.remedies.unit import in_file_numbers, in_file_unit
from neckmodel.checks.remedies.words import worded
from neckmodel.checks.verdict import SLACK
from neckmodel.design import Design, changed
from neckmodel.design.defaults.trade import Sizes, hair, sizes_of
from neckmodel.design.values import fields
from neckmodel.design.values.keys import look_up, split
from neckmodel.errors import DesignError
from neckmodel.findings import Remedy, ways_of
from neckmodel.layout import lay_out
from neckmodel.units import to_mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout

Settings = Mapping[str, float | str]

NEUTRAL = (
    0.05  # how large a change from one word to another counts; a changed length counts as the share by which it changes
)


def as_set(design: Design, settings: Settings) -> dict[str, float | str]:
    """Settings in mm, as `--set` takes them for this design's file: in a file in inches each length carries its
    unit."""
    if design.design.units == "mm":
        return dict(settings)
    return {key: _with_unit(design, key, value) for key, value in settings.items()}


def as_set_in(design: Design, remedy: Remedy) -> Remedy:
    """A remedy, with all its finer amounts, whose settings are as this design's file takes them."""
    settings = as_set(design, remedy.set)
    says = in_file_numbers(remedy.says, remedy.set, settings)
    return replace(remedy, says=says, set=settings, finer=tuple(as_set_in(design, way) for way in remedy.finer))


def _with_unit(design: Design, key: str, value: float | str) -> float | str:
    return in_file_unit(design, key, value) if _is_length(design, key) and not isinstance(value, str) else value


def _is_length(design: Design, key: str) -> bool:
    path = split(key)
    field = fields.field_at(type(design), path)
    return path[0] == "measured" or (field is not None and fields.is_length(field))


@dataclass(frozen=True)
class _Same:
    """A design as itself: told apart by being another one, which takes no reading of its values."""

    design: Design

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.design is self.design

    def __hash__(self) -> int:
        return id(self.design)


@lru_cache(maxsize=2)
def _as_measured(same: _Same) -> Layout:
    """The layout of a design whose remedies are looked for, which are many."""
    return lay_out(same.design)


def layout_with(design: Design, settings: Settings) -> Layout | None:
    """The layout with these settings, lengths in mm; None where it is refused, or where they change what is cut."""
    try:
        before = _as_measured(_Same(design)) if design.measured else None
        settings = settings if before is None else replacing(before, settings)
        if changes_measured(design, settings):
            return None
        after = lay_out(changed(design, as_set(design, settings)))
    except DesignError:
        return None
    return None if before is not None and puts_back(before, after) else after


def _any(layout: Layout) -> bool:  # noqa: ARG001 - any layout is good enough
    return True


def first_good(design: Design, remedies: Iterable[Remedy], good: Callable[[Layout], bool] = _any) -> Remedy | None:
    """The first remedy that can be laid out and is then `good`."""
    for remedy in remedies:
        layout = layout_with(design, remedy.set)
        if layout is not None and good(layout):
            return remedy
    return None


def either(*remedies: Remedy) -> Remedy:
    """One remedy that offers all of these, each of which is enough."""
    ways = tuple(way for remedy in remedies for way in ways_of(remedy))
    if len(ways) == 1:
        return ways[0]
    return Remedy(", or ".join(way.says for way in ways), ways[0].set, ways, leaves=ways[0].leaves)


@dataclass(frozen=True)
class Aim:
    """What a remedy must reach: `spare` mm beyond the limit, in sizes that can be bought or cut.

    spare: what the tolerances may take in the worst case; 0 aims at the limit itself. grade: "usual" sizes, the finest
    that can still be cut ("fine"), or, where even these lie too far off, sizes to 0.01 mm ("hair").
    """

    unit: str
    spare: float = 0.0
    grade: str = "usual"
    rough: bool = False

    def up(self, key: str, value: float) -> float:
        """The next size for a key that is at least this much, mm."""
        return self._sizes(key).up(value, fine=self.grade != "usual")

    def down(self, key: str, value: float) -> float:
        """The next size for a key that is at most this much, mm."""
        return self._sizes(key).down(value, fine=self.grade != "usual")

    def _sizes(self, key: str) -> Sizes:
        return hair(self.unit) if self.grade == "hair" else sizes_of(key, self.unit, rough=self.rough)


def graded(design: Design, make: Callable[[Aim], Remedy | None], loss: float = 0.0) -> Remedy | None:
    """The remedy for the worst case in usual sizes. Behind each of its ways, to be tried where it does not pass, stands
    the same way in finer sizes, and last without the worst case. None where no remedy can be made.

    loss: what the worst case takes from what was measured, mm.
    """
    unit, rough = design.design.units, design.board is not None and design.board.surface == "rough"
    aims = [Aim(unit, loss, "usual", rough), Aim(unit, loss, "fine", rough), Aim(unit, loss, "hair")]
    if loss > SLACK:
        aims += [Aim(unit, 0.0, "fine", rough), Aim(unit, 0.0, "hair")]
    kinds: dict[
        tuple[frozenset[str], int], list[Remedy]
    ] = {}  # by the keys, and by the number of the way among those with these keys
    for aim in aims:
        seen: Counter[frozenset[str]] = Counter()
        for way in ways_of(make(aim)):
            keys = frozenset(way.set)
            alike = kinds.setdefault((keys, seen[keys]), [])
            seen[keys] += 1
            if all(way.set != other.set for other in alike):
                alike.append(way)
    found = [replace(first, finer=tuple(rest)) for first, *rest in kinds.values()]
    return either(*found) if found else None


def possible(design: Design, settings: Settings, good: Callable[[Layout], bool] = _any) -> Remedy | None:
    """A remedy with these settings, in mm; None where there are none, where they cannot be laid out, or are not
    `good`."""
    layout = layout_with(design, settings) if settings else None
    return change(design, settings) if layout is not None and good(layout) else None


def any_of(*remedies: Remedy | None) -> Remedy | None:
    """These remedies as one, None among them left out; None where all are."""
    found = [remedy for remedy in remedies if remedy is not None]
    return either(*found) if found else None


def ladder(design: Design, *tries: Settings) -> Remedy | None:
    """The first of these settings, in mm, that can be laid out, with the others behind it; None where none can."""
    found: list[Remedy] = []
    for settings in tries:
        remedy = possible(design, settings)
        if remedy is not None and all(remedy.set != other.set for other in found):
            found.append(remedy)
    return replace(found[0], finer=tuple(found[1:])) if found else None


def change(design: Design, settings: Settings) -> Remedy:
    """A remedy with these settings, lengths in mm, in words for the bench."""
    return Remedy(worded(design, as_set(design, settings)), dict(settings))


def size_of(design: Design, settings: Settings) -> float:
    """How large a change is: the sum over its values, each counted as the share by which it changes."""
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
