"""Another memory for a while, or none: what is made inside knows nothing of what was made before."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from neckmodel.memory.remembered import IN_USE
from neckmodel.memory.store import Store


@contextmanager
def using(store: Store | None) -> Iterator[None]:
    """Inside it results are kept in another store, or, with None, neither kept nor taken from memory."""
    before = IN_USE.set(store)
    try:
        yield
    finally:
        IN_USE.reset(before)
