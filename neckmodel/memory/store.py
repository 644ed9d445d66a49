"""What is kept, within bounds: the results of calls by their keys; those longest unused go first."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, fields, is_dataclass
from threading import RLock

MOST_ENTRIES = 20_000
MOST_BYTES = 512 * 1024 * 1024  # by estimate; a preset's build and check take about a twentieth


@dataclass(frozen=True)
class Kept:
    """A result with its estimated size in bytes. objects: what in it is known by its place in it."""

    result: object
    size: int
    objects: tuple[object, ...]


class Store:
    """Results by key. An object stays known, and so may be part of other keys, as long as a result with it is kept."""

    def __init__(self, entries: int = MOST_ENTRIES, size: int = MOST_BYTES) -> None:
        self.most_entries, self.most_bytes = entries, size
        self.size = 0
        self._kept: OrderedDict[bytes, Kept] = OrderedDict()
        self._known: dict[int, tuple[bytes, object]] = {}
        self._lock = RLock()

    def __len__(self) -> int:
        return len(self._kept)

    def known(self, value: object) -> bytes | None:
        """The key under which an object was made, with its place in that result; None where it is not kept."""
        found = self._known.get(id(value))
        return None if found is None or found[1] is not value else found[0]

    def get(self, key: bytes) -> Kept | None:
        """The result of this key, from now on the one used last."""
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None:
                self._kept.move_to_end(key)
                self._name(key, kept)
            return kept

    def put(self, key: bytes, result: object, size: int) -> None:
        """Keeps a result, and lets go of those longest unused until all are within the bounds."""
        _hold_still(result)
        kept = Kept(result, size, tuple(_objects(result)))
        with self._lock:
            self._drop(key)
            self._kept[key] = kept
            self.size += size
            self._name(key, kept)
            while self._kept and (len(self._kept) > self.most_entries or self.size > self.most_bytes):
                self._drop(next(iter(self._kept)))

    def _name(self, key: bytes, kept: Kept) -> None:
        for place, value in enumerate(kept.objects):
            self._known[id(value)] = (key + str(place).encode(), value)

    def _drop(self, key: bytes) -> None:
        kept = self._kept.pop(key, None)
        if kept is None:
            return
        self.size -= kept.size
        for place, value in enumerate(kept.objects):
            if self._known.get(id(value), (b"", None))[0] == key + str(place).encode():
                del self._known[id(value)]


def _hold_still(result: object) -> None:
    """Makes the arrays of a result refuse to be changed: others look at them too."""
    if hasattr(result, "setflags"):
        result.setflags(write=False)
    elif isinstance(result, tuple):
        for member in result:
            _hold_still(member)
    elif is_dataclass(result):
        for field in fields(result):
            _hold_still(getattr(result, field.name))


def _objects(result: object) -> list[object]:
    """The objects of a result: itself, or the members of a tuple. Plain values are written by their content."""
    if isinstance(result, tuple):
        return [each for member in result for each in _objects(member)]
    return [] if result is None or isinstance(result, str | int | float) else [result]
