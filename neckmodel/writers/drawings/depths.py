"""JSON beside a drawing for machines: what is cut along each of its layers, in mm."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from neckmodel.errors import ExportError
from neckmodel.sheets.marks.display import Sheet
from neckmodel.writers.base import Target, refuse
from neckmodel.writers.drawings.pages import SheetJob, targets
from neckmodel.writers.jsons import clean, dumps

BESIDE = "dxf"
"""The table stands beside files of this format."""


@dataclass(frozen=True)
class TableWriter:
    """Writes the table that goes with every drawing for machines. Nobody asks for it by name."""

    name: str = "json"
    suffix: str = ".json"
    says: str = "what is cut along each layer of a drawing for machines"

    def targets(self, job: SheetJob) -> tuple[Target, ...]:
        """One table for each drawing that has one."""
        return tuple(
            Target(f"{target.file.removesuffix('.' + BESIDE)}{self.suffix}", (), target.title)
            for target, _, _ in _tables(job)
        )

    def write(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Writes the table."""
        path.write_bytes(dumps(self._data(job, target)).encode())

    def verify(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Compares the table with what it should be, and its layers with the drawing's."""
        problems, data = [], self._data(job, target)
        if json.loads(path.read_bytes()) != clean(data):
            problems.append("its data are not those written")
        missing = {cut["layer"] for cut in data["cuts"]} - set(data["drawing"]["layers"])
        if missing:
            problems.append(f"its drawing has no layer {', '.join(sorted(missing))}")
        refuse(path, problems)

    def _data(self, job: SheetJob, target: Target) -> dict[str, Any]:
        for drawing, sheet, table in _tables(job):
            if drawing.file.removesuffix("." + BESIDE) == target.file.removesuffix(self.suffix):
                layers = [layer.name for layer in sheet.pages[0].layers()]
                beside = {"file": drawing.file, "unit": job.unit, "layers": layers}
                remark = {"remark": job.remark} if job.remark else {}
                return {**table, **remark, "drawing": beside}
        raise ExportError(f"{target.file}: there is no drawing that it could stand beside")


def _tables(job: SheetJob) -> list[tuple[Target, Sheet, Mapping[str, Any]]]:
    """The file of every drawing that has a table, with its sheet and the table."""
    named = (sheet for sheet in job.sheets if BESIDE in sheet.formats)
    files = targets(job, BESIDE, f".{BESIDE}", paged=False)
    return [(file, sheet, sheet.table) for file, sheet in zip(files, named, strict=True) if sheet.table is not None]
