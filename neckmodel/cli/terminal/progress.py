"""Shows progress on stderr: a moving status on a terminal, plain lines elsewhere, nothing when quiet."""

from __future__ import annotations

import os
import sys
from types import TracebackType
from typing import TYPE_CHECKING

from neckmodel.cli.terminal.out import tell

if TYPE_CHECKING:
    from rich.status import Status


class Progress:
    """Call it with each step that may take long: `with Progress(quiet) as step: step("building the solids")`."""

    def __init__(self, quiet: bool) -> None:
        self._quiet = quiet
        self._status: Status | None = None
        self._step = ""

    def __enter__(self) -> Progress:
        if not self._quiet and sys.stderr.isatty() and os.environ.get("TERM") not in ("dumb", "unknown"):
            from rich.console import Console

            self._status = Console(stderr=True, highlight=False, markup=False, emoji=False).status("starting")
            self._status.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._status is not None:
            self._status.stop()

    def __call__(self, step: str) -> None:
        if self._status is not None:
            self._status.update(step)
        elif not self._quiet:
            tell(f"neckmodel: {step}")
        self._step = step

    def detail(self, part: str) -> None:
        """A short part of the step, shown only where the status moves; it is too much for lines."""
        if self._status is not None:
            self._status.update(f"{self._step}: {part}")
