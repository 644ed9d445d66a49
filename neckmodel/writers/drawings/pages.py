"""What the writers of drawings share: the files that a job's sheets become."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from neckmodel.writers.base import Target, file_stem

if TYPE_CHECKING:
    from neckmodel.sheets.marks.display import Drawing, Sheet


class SheetJob(Protocol):
    """As much of a job as the writers of drawings use. remark: what every file must say of the verdict, or ""."""

    @property
    def design(self) -> str: ...

    @property
    def sheets(self) -> tuple[Sheet, ...]: ...

    @property
    def unit(self) -> str: ...

    @property
    def remark(self) -> str: ...


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
