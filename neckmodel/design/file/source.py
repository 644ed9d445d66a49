"""Where a design came from: the file's name and text, the values it states, and the values set over it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

from neckmodel.design.file.lines import Lines
from neckmodel.design.file.renamed import as_written
from neckmodel.design.file.toml import as_toml, printable
from neckmodel.design.values.keys import Path, dotted, look_up
from neckmodel.errors import Problem
from neckmodel.lengths import in_unit


@dataclass(frozen=True)
class Source:
    """The text of a design file and the raw tables read from it, with overrides applied.

    overrides: paths of values set with `--set`, which have no line. old_names: renamed keys that the file or an
    override still uses. measured: paths where a measured value has replaced the planned one. plan: the source before
    that.
    """

    file: str = "design"
    text: str = ""
    raw: dict[str, object] = field(default_factory=dict)
    overrides: tuple[Path, ...] = ()
    old_names: tuple[Path, ...] = ()
    measured: tuple[Path, ...] = ()
    plan: Source | None = None

    @property
    def planned(self) -> Source:
        """The source as stated, without measured values."""
        return self.plan or self

    def built(self, raw: dict[str, object], measured: tuple[Path, ...]) -> Source:
        """This source with other raw tables, in which the values at these paths are measured."""
        return replace(self, raw=raw, measured=measured, plan=self)

    @cached_property
    def _lines(self) -> Lines:
        return Lines(self.text)

    def stated(self, path: Path) -> bool:
        """Whether the file or an override states a value at this path."""
        return look_up(self.raw, path) is not None

    def line(self, path: Path) -> int | None:
        """The line that states this path, or else the nearest table around it."""
        return self._lines.of(as_written(path, self.old_names))

    def is_set(self, path: Path) -> bool:
        """Whether the value at this path was set from outside the file."""
        here = tuple(map(str, path))  # below [measured] an item's number is a key
        overrides = [tuple(map(str, over)) for over in self.overrides]
        if any(here[: len(over)] == over for over in overrides):
            return True
        return any(over[: len(here)] == here for over in overrides) and path not in self._lines

    def problem(self, path: Path, says: str, allowed: str = "", attempt: str = "", default: object = None) -> Problem:
        """A problem with the value at this path, its line and stated value filled in. default: the value shown where
        the file states none."""
        value = look_up(self.raw, path)
        if path in self.measured:
            path = ("measured", *path)
        shown = None if isinstance(value, dict) and len(path) == 1 else None if value is None else as_toml(value)
        if value is None and default is not None:
            shown = f"{as_toml(default)} (default)"
        place = "--set" if self.is_set(path) else None
        line = None if place else self.line(path)
        if place is None:
            path = as_written(path, self.old_names)
        unit = "in" if look_up(self.raw, ("design", "units")) == "in" else "mm"
        allowed, attempt = (in_unit(text, unit, to_follow=True) for text in (allowed, attempt))
        return Problem(printable(dotted(path)), in_unit(says, unit), shown, allowed, attempt, line, place)
