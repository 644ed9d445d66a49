"""The report as a file: complete and re-read, or not written."""

from __future__ import annotations

from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.errors import ExportError
from neckmodel.report.html import EMPTY
from neckmodel.report.page import report
from neckmodel.writers.atomic import make_readable, sync
from neckmodel.writers.base import file_stem, refuse
from neckmodel.writers.drafts import drafts, try_place

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts

DRAWN_EMPTY = frozenset({"path", "circle", "rect"})  # elements that may close themselves, as in SVG


def file_name(design: str) -> str:
    """The file's name for a design's name."""
    return f"{file_stem(design)}-report.html"


def write_report(
    parts: Parts,
    findings: Findings,
    folder: str | Path,
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> Path:
    """Writes the report into `folder`, made if need be, and returns its path; an earlier one of that name is replaced.

    Raises ExportError, and leaves what was there as it was, where it cannot be written or reads back differently.
    """
    path = Path(folder) / file_name(findings.name)
    try_place(path.parent, path.name)
    text = report(parts, findings, progress)
    progress(f"writing {path.name}")
    try:
        with drafts(path.parent) as folder:
            draft = folder / path.name
            draft.write_bytes(text.encode())
            refuse(path, problems(draft.read_bytes(), text))
            make_readable(draft, 0o666)
            sync(draft)
            draft.replace(path)
    except OSError as error:
        if isinstance(error, ExportError):
            raise
        raise ExportError(f"{path}: cannot be written: {error.strerror or error}") from error
    return path


def problems(data: bytes, text: str) -> list[str]:
    """Faults in a page's bytes: text that differs, elements that do not nest, a name given twice, or anything that a
    browser would fetch."""
    if data != text.encode():
        return ["its text is not the one written"]
    reader = _Reader()
    reader.feed(text)
    reader.close()
    if reader.open:
        reader.found.append(f"elements left open: {', '.join(reader.open)}")
    return reader.found


class _Reader(HTMLParser):
    """Reads a page by the standard library's own HTML rules."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.names: set[str] = set()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._check_tag(tag, attrs)
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._check_tag(tag, attrs)
        if tag not in DRAWN_EMPTY:
            self.found.append(f"<{tag}/> is no element without content")

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.found.append(f"</{tag}> closes what it did not open")

    def _check_tag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for key, value in attrs:
            if key == "id" and value is not None:
                if value in self.names:
                    self.found.append(f"two elements are called {value}")
                self.names.add(value)
            if key in ("src", "href", "srcset", "action") and not (value or "").startswith(("#", "data:,")):
                self.found.append(f"{tag} would fetch {value}")
            if key.startswith("on"):
                self.found.append(f"{tag} holds a script in {key}")
