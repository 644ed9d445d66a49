"""The last step of a script: writes parts and findings into an export folder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.findings import Findings

if TYPE_CHECKING:
    from neckmodel.sheets.marks.display import Sheet
    from neckmodel.solids.parts import Parts
    from neckmodel.writers.manifest import Manifest

FORMATS = ("step", "stl")  # written unless others are asked for


def write(
    parts: Parts,
    findings: Findings,
    folder: str | Path,
    *,
    formats: Sequence[str] = FORMATS,
    despite_findings: bool = False,
    schema: str = "AP214",
    unit: str = "mm",
    setup: str = "glue-up",
    sheets: bool = False,
    report: bool = False,
    strips: bool = False,
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> Manifest:
    """Exports into `folder`, all or nothing, together with the design file and the layout behind the parts.

    sheets: with the drawings for the bench and for machines. report: with the page that shows everything. strips: the
    neck of a board of strips as one part for each. schema, unit, setup: as in `neckmodel.writers.base.Form`.
    Raises ExportError where a check failed and `despite_findings` is not set, where `folder` holds anything other than
    an earlier export, and where a file cannot be written or reads back differently.
    """
    from neckmodel.layout.json.layout import layout_json
    from neckmodel.writers.base import Bodies, Form, Job
    from neckmodel.writers.documents import design_text
    from neckmodel.writers.folders.export import write as write_folder

    drawings: tuple[Sheet, ...] = ()
    if sheets:
        from neckmodel.sheets import draw_all

        drawings = draw_all(parts.layout, findings)
    page = ""
    if report:
        from neckmodel.report import report as page_of

        page = page_of(parts, findings)
    if strips:
        from neckmodel.checks.strips import as_strips

        parts, findings = as_strips(parts, findings)
    job = Job(
        Bodies(parts.parts),
        findings,
        layout=layout_json(parts.layout),
        design_text=design_text(parts.layout.design.source),
        form=Form(schema, unit, setup),
        sheets=drawings,
        page=page,
    )
    return write_folder(job, folder, formats=formats, despite_findings=despite_findings, progress=progress)
