"""Line numbers of keys in a TOML text, found only when a message needs them.

The parser keeps no positions. Every statement of a TOML file (a header, or a key with its value) is valid on its own,
so the text is cut into statements by trying to parse them, and each one's keys are noted with its line.
"""

from __future__ import annotations

import tomllib

from neckmodel.design.facts import Path

_LONGEST_VALUE = 400  # lines; every line of a value is tried, so a longer one is not searched inside


class Lines:
    """Where each key of a valid TOML text stands."""

    def __init__(self, text: str) -> None:
        self._lines: dict[Path, int] = {}
        self._table: Path = ()
        self._counts: dict[Path, int] = {}
        rows = text.splitlines(keepends=True)
        at = 0
        while at < len(rows):
            at = self._statement(rows, at)

    def __contains__(self, path: Path) -> bool:
        return path in self._lines

    def of(self, path: Path) -> int | None:
        """The line of the key, or else of the nearest table around it; None where no part of the path is there."""
        while path:
            if path in self._lines:
                return self._lines[path]
            path = path[:-1]
        return None

    def _statement(self, rows: list[str], at: int) -> int:
        """Notes the statement that starts at a row; gives the row after it."""
        for end in range(at + 1, min(at + _LONGEST_VALUE, len(rows)) + 1):
            try:
                found = tomllib.loads("".join(rows[at:end]))
            except (ValueError, RecursionError):
                continue
            if rows[at].lstrip().startswith("["):
                self._header(found, at + 1)
            else:
                self._note(self._table, found, at + 1)
                if end - at > 1:
                    self._note_items(rows, at, end, found)
            return end
        return at + 1

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

    def _note(self, path: Path, value: object, line: int) -> None:
        if isinstance(value, dict):
            for key, item in value.items():
                self._lines.setdefault((*path, key), line)
                self._note((*path, key), item, line)
        elif isinstance(value, list):
            for index, item in enumerate(value):
                self._lines.setdefault((*path, index), line)
                self._note((*path, index), item, line)

    def _note_items(self, rows: list[str], at: int, end: int, found: dict[str, object]) -> None:
        """Items of a list over several rows: closing it early after each row tells how many it has by then."""
        path: Path = ()
        value: object = found
        while isinstance(value, dict) and len(value) == 1:
            key, value = next(iter(value.items()))
            path = (*path, key)
        if not isinstance(value, list):
            return
        known, start = 0, at
        for row in range(at, end):
            try:
                part: object = tomllib.loads("".join(rows[at : row + 1]) + "\n]")
            except (ValueError, RecursionError):
                continue
            for key in path:
                part = part[key] if isinstance(part, dict) else part
            count = len(part) if isinstance(part, list) else known
            for index in range(known, count):
                item: Path = (*self._table, *path, index)
                self._lines = {key: line for key, line in self._lines.items() if key[: len(item)] != item}
                self._lines[item] = start + 1
                self._note(item, value[index], start + 1)
            known, start = count, row + 1
