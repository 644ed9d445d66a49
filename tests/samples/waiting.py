"""Waiting for what another process does. No test is a bound of speed: the only limit here ends what would never end."""

from __future__ import annotations

import time
from collections.abc import Callable

HANGS = 900.0  # s; a machine under any load is through by then, and what hangs would otherwise hang for ever
# s; a page that stands in a browser answers at once. What it does not show by then it never will, and a test that looks
# for it is told so after two minutes rather than a quarter of an hour
PAGE_HANGS = 120.0
PAUSE = 0.02  # s between two looks


def until(holds: Callable[[], object], what: str = "it", hangs: float = HANGS) -> None:
    """Look again and again until something holds. AssertionError after so many seconds."""
    last = time.monotonic() + hangs
    while not holds():
        assert time.monotonic() < last, f"never: {what}"
        time.sleep(PAUSE)
