"""A jig's folder: STEP in place on the neck, STL, 3MF for each bed, drawings for machines and for the bench. It is
complete or does not exist."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from neckmodel.errors import ExportError
from neckmodel.findings import Findings
from neckmodel.layout.json.layout import layout_json
from neckmodel.sheets.marks.display import Drawing, Layer, Path, Sheet
from neckmodel.sheets.marks.sketch import bounds
from neckmodel.writers.base import PRINTING, Bodies, Job, Target, Writer
from neckmodel.writers.documents import DESIGN, FINDINGS, LAYOUT, design_text
from neckmodel.writers.folders.export import fill
from neckmodel.writers.folders.sheets import planned
from neckmodel.writers.manifest import Manifest
from neckmodel.writers.meshes.stl import StlWriter
from neckmodel.writers.meshes.threemf import ThreeMfWriter
from neckmodel.writers.step.step import StepWriter

if TYPE_CHECKING:
    from neckmodel.jigs import Jig

PEN = 0.18  # mm, of the lines for machines


def write_jig(
    jig: Jig,
    findings: Findings,
    folder: str | FilePath,
    *,
    despite_findings: bool = False,
    papers: Sequence[str] = (),
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> Manifest:
    """Export a jig into `folder`, replacing an earlier export there. papers: of its drawings for the bench, the usual
    one of the design's unit if none is named.

    Raises ExportError, and leaves what was there as it was, when a finding failed and `despite_findings` is not set,
    when `folder` holds anything that an earlier export did not write, and when a file cannot be written or reads back
    differently.
    """
    from neckmodel.sheets.jigs.sheet import draw_jig

    standing = Job(Bodies(jig.parts), findings, layout_json(jig.layout), design_text(jig.layout.design.source))
    sheets = (*_plans(jig), *draw_jig(jig, findings, papers))
    on_beds = replace(standing, bodies=Bodies(piece.part for piece in jig.printed), sheets=sheets)
    if standing.failed and not despite_findings:
        raise ExportError(f"not exported, because checks failed: {', '.join(standing.failed)}")
    # no assembly: the pieces' files share one frame, and each label has a thousand faces
    plan: list[tuple[Writer, Job, Target]] = [(StepWriter(), standing, t) for t in StepWriter().targets(standing)[:-1]]
    plan += [(StlWriter(), on_beds, t) for t in StlWriter().targets(on_beds)]
    plan += [(ThreeMfWriter(), on_beds, t) for t in bed_targets(jig, on_beds)]
    plan += [(writer, on_beds, t) for writer, t in planned(on_beds)]
    plan += [(document, standing, t) for document in (FINDINGS, LAYOUT, DESIGN) for t in document.targets(standing)]
    return fill(folder, plan, standing, progress)


def bed_targets(jig: Jig, job: Job) -> tuple[Target, ...]:
    """One file for each bed, with the pieces on it."""
    return tuple(
        Target(
            f"{job.stem}-jig-{jig.kind}-bed-{bed}.3mf",
            tuple(piece.part.name for piece in jig.printed if piece.bed == bed),
            f"{job.design} {jig.kind}, bed {bed} of {jig.beds}",
            deflection=PRINTING,
        )
        for bed in range(1, jig.beds + 1)
    )


def _plans(jig: Jig) -> list[Sheet]:
    from neckmodel.jigs.plan import cut_outlines

    sheets = []
    for piece in jig.printed:
        marks = tuple(
            Path(Layer(f"{outline.height:.2f} over the bed", PEN), outline.points, outline.bulges, closed=True)
            for outline in cut_outlines(piece.part.solid)
        )
        title = f"{jig.name} {piece.part.name}"
        drawing = Drawing(title, marks, bounds(marks))
        sheets.append(Sheet(piece.part.name, "", title, (drawing,), ("dxf",), true_size=True))
    return sheets
