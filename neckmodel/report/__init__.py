"""The report: one page of HTML with everything about a design, and short forms of it for notebooks.

Importing this package loads nothing heavy; making a report needs the built parts.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts

__all__ = ["report", "write_report"]


def report(parts: Parts, findings: Findings) -> str:
    """The report's text. See `page.report`."""
    from neckmodel.report.page import report as made

    return made(parts, findings)


def write_report(
    parts: Parts,
    findings: Findings,
    folder: str | Path,
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> Path:
    """Write the report into a folder and give its path. See `writing.write_report`."""
    from neckmodel.report.writing import write_report as write

    return write(parts, findings, folder, progress)
