"""`neckmodel sheets`: drawings and tables for the bench and for machines, without the CAD kernel."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import File, Json, Quiet, Set

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

SCHEMA = "neckmodel/sheets/1"
UNITS = {"mm": "mm", "in": "inch"}


def sheets(
    file: File,
    kinds: Annotated[
        list[str] | None,
        typer.Option(
            "--sheet",
            metavar="KIND",
            help="marking-out, routing, board, cross-sections, inspection, pockets, templates, fretboard or head; "
            "repeatable. Default: all of these. A jig's drawings, which take longer: jig- and its kind.",
            autocompletion=completion.sheet_kinds,
        ),
    ] = None,
    papers: Annotated[
        list[str] | None,
        typer.Option(
            "--paper",
            metavar="PAPER",
            help="A4, A3, Letter, Tabloid or long; repeatable. Default: long, and A4 or Letter by the design's unit.",
            autocompletion=completion.papers,
        ),
    ] = None,
    formats: Annotated[
        list[str] | None,
        typer.Option(
            "--format",
            metavar="FORMAT",
            help="pdf, svg or dxf; repeatable. Default: pdf, and dxf for machines.",
            autocompletion=completion.drawing_formats,
        ),
    ] = None,
    unit: Annotated[
        str,
        typer.Option(
            "--dxf-unit",
            metavar="UNIT",
            help="Unit of the DXF files: mm or in.",
            autocompletion=completion.units,
        ),
    ] = "mm",
    set_: Set = None,
    json: Json = False,
    out: Annotated[
        str | None,
        typer.Option("--out", metavar="FOLDER", help="Write into this folder instead of exports/<name>-sheets."),
    ] = None,
    quiet: Quiet = False,
) -> None:
    """Draw sheets into exports/<name>-sheets: marking out, routing, sections, inspection, and contours for machines."""
    from pathlib import Path

    from neckmodel.cli.build import CAUTION, EXPORTS
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.running import remarks
    from neckmodel.cli.terminal.out import say_json, tell
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.cli.words import any_case, unit_named
    from neckmodel.layout import lay_out
    from neckmodel.sheets import draw_all
    from neckmodel.sheets.pages.sizes import LONG, PAPERS
    from neckmodel.sheets.pages.verdict import verdict_of
    from neckmodel.sheets.registry import names
    from neckmodel.writers.base import DESPITE, file_stem
    from neckmodel.writers.drawings.pages import DrawnJob
    from neckmodel.writers.folders.sheets import DRAWING_FORMATS, write_sheets

    kinds, papers = any_case(kinds, names()), any_case(papers, (*PAPERS, LONG))
    formats, unit = any_case(formats, DRAWING_FORMATS), unit_named(unit)
    _check_call(kinds, papers, formats)
    layout = lay_out(open_design(file, set_, quiet))
    folder = Path(EXPORTS) / f"{file_stem(layout.name)}-sheets" if out is None else Path(out)
    _check_place(folder)
    findings = _findings(layout, folder)
    verdict = verdict_of(layout, findings)
    drawn = draw_all(layout, findings, papers, kinds)
    remark = {"FAIL": DESPITE, "NOT CHECKED": "NOT CHECKED"}.get(verdict.word, "")
    with Progress(quiet) as step:
        paths = write_sheets(DrawnJob(layout.name, drawn, UNITS[unit], remark), folder, formats, step)
    if json:
        files = [path.name for path in paths]
        say_json(
            {"schema": SCHEMA, "name": layout.name, "verdict": verdict.word, "folder": str(folder), "files": files}
        )
    else:
        show_lines(f"Drawn into {folder}:")
        for path in paths:
            show_lines(path.name, indent=2)
        if not paths:
            show_lines("nothing: no sheet that was asked for can become such a file", indent=2)
        show_lines("", verdict.says, "", CAUTION)
    tell("" if quiet or not json else CAUTION)
    remarks(layout, quiet)
    if findings is not None and not findings.passed:
        raise typer.Exit(FAILED)


def _check_call(kinds: Sequence[str], papers: Sequence[str], formats: Sequence[str]) -> None:
    from neckmodel.cli.guard import CallError
    from neckmodel.errors import ExportError
    from neckmodel.sheets.registry import is_of_jig, kind_named, papers_named
    from neckmodel.writers.folders.sheets import drawing_format

    try:
        for kind in kinds:
            if not is_of_jig(kind):
                kind_named(kind)
        papers_named(papers, "mm")
        for name in formats:
            drawing_format(name)
    except ExportError as error:
        raise CallError(str(error)) from None


def _check_place(folder: Path) -> None:
    from neckmodel.cli.guard import CallError
    from neckmodel.errors import ExportError
    from neckmodel.writers.drafts import LONGEST, try_place
    from neckmodel.writers.folders.sheets import check_place

    try:
        check_place(folder)
        try_place(folder, LONGEST)
    except ExportError as error:
        raise CallError(str(error)) from None


def _findings(layout: Layout, folder: Path) -> Findings | None:
    """The findings of an export of this very design, where `build` leaves it, or beside the sheets; None where there is
    none."""
    from pathlib import Path

    from neckmodel.cli.build import EXPORTS
    from neckmodel.writers.base import file_stem
    from neckmodel.writers.folders.previous import earlier_findings

    stem = file_stem(layout.name)
    places = (Path(EXPORTS) / stem, folder.parent / stem, folder.parent / EXPORTS / stem)
    found = (earlier_findings(place, layout.design.sha256) for place in places)
    return next((findings for findings in found if findings is not None), None)
