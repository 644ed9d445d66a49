"""Finds the line of a key in a TOML text. It runs only when a message needs a line.

The TOML parser keeps no positions. Each statement of a TOML file (a header, or a key with its value) is valid by
itself, so the text is cut into statements by trying to parse them, and the line of each statement's keys is noted.
"""

from __future__ import annotations

import tomllib

from neckmodel.design.values.keys import Path

_LONGEST_VALUE = 400  # lines; a longer value is not searched inside, for each of its lines takes a trial
_EFFORT = 2_000_000  # signs parsed in all, about two seconds; a usual file needs some ten thousand


class Lines:
    """The line of each key of a valid TOML text."""

    def __init__(self, text: str) -> None:
        self._lines: dict[Path, int] = {}
        self._table: Path = ()
        self._counts: dict[Path, int] = {}
        self._effort = _EFFORT
        rows = [row + "\n" for row in text.split("\n")]  # the only line ends that TOML knows
        at = 0
        while at < len(rows) and self._effort > 0:
            at = self._statement(rows, at)

    def __contains__(self, path: Path) -> bool:
        return path in self._lines

    def of(self, path: Path) -> int | None:
        """The line of the key, else of the nearest table around it; None where the text has no part of the path."""
        while path:
            if path in self._lines:
                return self._lines[path]
            path = path[:-1]
        return None

    def _statement(self, rows: list[str], at: int) -> int:
        """Notes the statement that starts at a row; gives the row after it."""
        for end in range(at + 1, min(at + _LONGEST_VALUE, len(rows)) + 1):
            found = self._parsed("".join(rows[at:end]))
            if found is None:
                continue
            if rows[at].lstrip().startswith("["):
                self._header(found, at + 1)
            else:
                self._note(self._table, found, at + 1)
                if end - at > 1:
                    self._note_items(rows, at, end, found)
            return end
        return at + 1

    def _parsed(self, text: str) -> dict[str, object] | None:
        self._effort -= len(text)
        if self._effort < 0:
            return None
        try:
            return tomllib.loads(text)
        except (ValueError, RecursionError):
            return None

    def _header(self, found: dict[str, object], line: int) -> None:
        path: Path = ()
        value: object = found
        while isinstance(value, dict) and value:
            key, value = next(iter(value.items()))
            path = (*path, key)
            if not isinstance(value, list) and path in self._counts:
                path = (*path, self._counts[path] - 1)
        if isinstance(value, list):
            count = self._counts.get(path, 0)
            self._counts[path] = count + 1
            self._lines.setdefault(path, line)
            path = (*path, count)
        for depth in range(1, len(path) + 1):
            self._lines.setdefault(path[:depth], line)
        self._lines[path] = line
        self._table = path

    def _note(self, path: Path, value: object, line: int, over: bool = False) -> None:
        """Notes everything below a path; `over` replaces what was noted before."""
        pairs: list[tuple[str | int, object]] = []
        if isinstance(value, dict):
            pairs = list(value.items())
        elif isinstance(value, list):
            pairs = list(enumerate(value))
        for part, item in pairs:
            inside = (*path, part)
            self._lines[inside] = line if over else self._lines.get(inside, line)
            self._note(inside, item, line, over)

    def _note_items(self, rows: list[str], at: int, end: int, found: dict[str, object]) -> None:
        """Finds the lines of a list's items where the list fills several rows. Each row is tried with the list
        closed after it; the number of items tells which began there."""
        path: Path = ()
        value: object = found
        while isinstance(value, dict) and len(value) == 1:
            key, value = next(iter(value.items()))
            path = (*path, key)
        if not isinstance(value, list):
            return
        known, start = 0, at
        for row in range(at, end):
            if row == end - 1:
                count = len(value)  # the row that closes the list itself
            else:
                part: object = self._parsed("".join(rows[at : row + 1]) + "]")
                if part is None:
                    continue
                for key in path:
                    part = part[key] if isinstance(part, dict) else part
                count = len(part) if isinstance(part, list) else known
            for index in range(known, count):
                item: Path = (*self._table, *path, index)
                self._lines[item] = start + 1
                self._note(item, value[index], start + 1, over=True)
            known, start = count, row + 1
