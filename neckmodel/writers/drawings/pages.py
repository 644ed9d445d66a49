"""What the writers of drawings share: which files a job's sheets become."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from neckmodel.writers.base import Target, file_stem

if TYPE_CHECKING:
    from neckmodel.sheets.marks.display import Drawing, Sheet


class SheetJob(Protocol):
    """The part of a job that the writers of drawings use."""

    @property
    def design(self) -> str:
        """The design's name."""

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets to be written."""

    @property
    def unit(self) -> str:
        """ "mm" or "inch", of the DXF files."""

    @property
    def remark(self) -> str:
        """What every file must say about the verdict; empty when all checks pass."""


@dataclass(frozen=True)
class DrawnJob:
    """A job of drawings alone. unit: "mm" or "inch", of the DXF files."""

    design: str
    sheets: tuple[Sheet, ...]
    unit: str = "mm"
    remark: str = ""


def targets(job: SheetJob, name: str, suffix: str, *, paged: bool) -> tuple[Target, ...]:
    """One file for each sheet that can become this format; one for each page where the format has no pages."""
    return tuple(
        Target(f"{file}{suffix}", (), title)
        for sheet in job.sheets
        if name in sheet.formats
        for file, title, _ in _files(job, sheet, paged)
    )


def pages_of(job: SheetJob, name: str, suffix: str, target: Target, *, paged: bool) -> tuple[Drawing, ...]:
    """The pages that go into one file."""
    for sheet in job.sheets:
        if name in sheet.formats:
            for file, _, pages in _files(job, sheet, paged):
                if f"{file}{suffix}" == target.file:
                    return pages
    raise KeyError(target.file)


def _files(job: SheetJob, sheet: Sheet, paged: bool) -> list[tuple[str, str, tuple[Drawing, ...]]]:
    """(file name without its suffix, title, pages) of each file of a sheet."""
    stem = f"{file_stem(job.design)}-{sheet.kind}"
    if sheet.paper and not (sheet.true_size and sheet.paper == "long"):
        stem = f"{stem}-{sheet.paper}"
    if paged or len(sheet.pages) == 1:
        return [(stem, sheet.title, sheet.pages)]
    return [(f"{stem}-{k}", page.title, (page,)) for k, page in enumerate(sheet.pages, 1)]
