"""How much work something is, counted instead of timed: the same on every machine, however busy."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType


def calls(work: Callable[[], object]) -> int:
    """Calls of Python functions and of built-in ones while `work` runs. What runs inside one built-in call is one."""
    count = 0

    def counting(frame: FrameType, event: str, argument: object) -> None:  # noqa: ARG001 (as sys.setprofile calls it)
        nonlocal count
        if event in ("call", "c_call"):
            count += 1

    before = sys.getprofile()
    sys.setprofile(counting)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count
