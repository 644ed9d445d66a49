"""Writes sheets into a maker's folder: all are written and re-read before the first one gets its name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from neckmodel.errors import ExportError, NeckmodelError
from neckmodel.stopping import held
from neckmodel.writers.atomic import fill
from neckmodel.writers.base import Target
from neckmodel.writers.drafts import drafts
from neckmodel.writers.drawings.depths import BESIDE, TableWriter
from neckmodel.writers.drawings.dxf import DxfWriter
from neckmodel.writers.drawings.pages import DrawnJob, SheetJob
from neckmodel.writers.drawings.pdf import PdfWriter
from neckmodel.writers.drawings.svg import SvgWriter
from neckmodel.writers.manifest import listed

DrawingWriter = PdfWriter | SvgWriter | DxfWriter | TableWriter
DRAWING_FORMATS: dict[str, DrawingWriter] = {writer.name: writer for writer in (PdfWriter(), SvgWriter(), DxfWriter())}
TABLES = TableWriter()


def drawing_format(name: str) -> DrawingWriter:
    """Raises ExportError for a name that is not a format's."""
    if name not in DRAWING_FORMATS:
        raise ExportError(f"format {name!r} is not known; it is one of: {', '.join(DRAWING_FORMATS)}")
    return DRAWING_FORMATS[name]


def planned(job: SheetJob, formats: Sequence[str] = ()) -> list[tuple[DrawingWriter, Target]]:
    """The files that a job becomes, each with its writer. formats: where none are named, each sheet's usual one. A
    drawing for machines brings its table with it."""
    plan: list[tuple[DrawingWriter, Target]] = []
    for sheet in job.sheets:
        usual = sheet.formats[:1] if sheet.usual and not formats else ()
        own = DrawnJob(job.design, (sheet,), job.unit, job.remark)
        for name in dict.fromkeys((*formats, *usual)):
            writer = drawing_format(name)
            plan += [(writer, target) for target in writer.targets(own)]
            if name == BESIDE:
                plan += [(TABLES, target) for target in TABLES.targets(own)]
    return plan


def check_place(folder: Path) -> None:
    """Raises ExportError where sheets would spoil an export, whose folder may hold only what its manifest lists."""
    if listed(folder) is not None:
        raise ExportError(f"{folder} is an export, which holds only what it lists; choose another folder for sheets")


def write_sheets(
    job: DrawnJob,
    folder: Path,
    formats: Sequence[str] = (),
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> tuple[Path, ...]:
    """The files, in order. Files of these names are replaced, others stay. Raises ExportError, and leaves the folder
    as it was, when one cannot be written or reads back differently."""
    plan = planned(job, formats)
    folder = folder.absolute()
    check_place(folder)
    try:
        with drafts(folder) as draft:
            for writer, target in plan:
                progress(f"drawing {target.file}")
                fill(writer, job, target, draft / target.file)
            with held():
                for _, target in plan:
                    (draft / target.file).replace(folder / target.file)
    except OSError as error:
        if isinstance(error, NeckmodelError):
            raise
        raise ExportError(f"{folder}: cannot be written: {error.strerror or error}") from error
    return tuple(folder / target.file for _, target in plan)
