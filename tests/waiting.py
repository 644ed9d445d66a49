"""Waiting for what another process does. No test is a bound of speed: the only limit here ends what would never end."""

from __future__ import annotations

import time
from collections.abc import Callable

HANGS = 900.0  # s; a machine under any load is through by then, and what hangs would otherwise hang for ever
PAUSE = 0.02  # s between two looks


def until(holds: Callable[[], object], what: str = "it") -> None:
    """Look again and again until something holds. AssertionError after HANGS."""
    last = time.monotonic() + HANGS
    while not holds():
        assert time.monotonic() < last, f"never: {what}"
        time.sleep(PAUSE)
