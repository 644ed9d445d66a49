"""`neckmodel sheets`: drawings and tables for the bench and for machines, without the CAD kernel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import File, Json, Quiet, Set

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.sheets.pages.verdict import Verdict

SCHEMA = "neckmodel/sheets/1"
UNITS = {"mm": "mm", "in": "inch"}


Kinds = Annotated[
    list[str] | None,
    typer.Option(
        "--sheet",
        metavar="KIND",
        help="marking-out, routing, board, cross-sections, inspection, pockets, templates, fretboard or head; "
        "repeatable. Default: all of these. A jig's drawings, which take longer: jig- and its kind.",
        autocompletion=completion.sheet_kinds,
    ),
]
Papers = Annotated[
    list[str] | None,
    typer.Option(
        "--paper",
        metavar="PAPER",
        help="A4, A3, Letter, Tabloid or long; repeatable. Default: long, and A4 or Letter by the design's unit.",
        autocompletion=completion.papers,
    ),
]
Formats = Annotated[
    list[str] | None,
    typer.Option(
        "--format",
        metavar="FORMAT",
        help="pdf, svg or dxf; repeatable. Default: pdf, and dxf for machines.",
        autocompletion=completion.drawing_formats,
    ),
]
DxfUnit = Annotated[
    str,
    typer.Option(
        "--dxf-unit",
        metavar="UNIT",
        help="Unit of the DXF files: mm or in.",
        autocompletion=completion.units,
    ),
]
Folder = Annotated[
    str | None,
    typer.Option("--out", metavar="FOLDER", help="Write into this folder instead of exports/<name>-sheets."),
]


@dataclass(frozen=True)
class _Asked:
    """What a call asks for, in the words of the registries: nothing where the usual is meant. unit: of DXF files."""

    kinds: Sequence[str]
    papers: Sequence[str]
    formats: Sequence[str]
    unit: str


def sheets(
    file: File,
    *,
    kinds: Kinds = None,
    papers: Papers = None,
    formats: Formats = None,
    unit: DxfUnit = "mm",
    set_: Set = None,
    json: Json = False,
    out: Folder = None,
    quiet: Quiet = False,
) -> None:
    """Draw sheets for the bench, contours for machines. Marking out, routing, sections, inspection; into
    exports/<name>-sheets."""
    from pathlib import Path

    from neckmodel.cli.build import CAUTION, EXPORTS
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.running import remarks
    from neckmodel.cli.terminal.out import tell
    from neckmodel.layout import lay_out
    from neckmodel.sheets.pages.verdict import verdict_of
    from neckmodel.writers.base import file_stem

    asked = _asked(kinds, papers, formats, unit)
    layout = lay_out(open_design(file, set_, quiet))
    _check_use(layout, asked.kinds)
    folder = Path(EXPORTS) / f"{file_stem(layout.name)}-sheets" if out is None else Path(out)
    _check_place(folder)
    findings = _findings(layout, folder)
    verdict = verdict_of(layout, findings)
    paths = _drawn(layout, findings, asked, folder, quiet)
    if json:
        _say_json(layout.name, verdict, folder, paths)
    else:
        _say(verdict, folder, paths)
    tell("" if quiet or not json else CAUTION)
    remarks(layout, quiet)
    if findings is not None and not findings.passed:
        raise typer.Exit(FAILED)


def _asked(kinds: list[str] | None, papers: list[str] | None, formats: list[str] | None, unit: str) -> _Asked:
    """Raises CallError for a word that none of them has."""
    from neckmodel.cli.words import any_case, unit_named
    from neckmodel.sheets.pages.sizes import LONG, PAPERS
    from neckmodel.sheets.registry import names
    from neckmodel.writers.folders.sheets import DRAWING_FORMATS

    asked = _Asked(
        any_case(kinds, names()),
        any_case(papers, (*PAPERS, LONG)),
        any_case(formats, DRAWING_FORMATS),
        UNITS[unit_named(unit)],
    )
    _check_call(asked.kinds, asked.papers, asked.formats)
    return asked


def _drawn(layout: Layout, findings: Findings | None, asked: _Asked, folder: Path, quiet: bool) -> tuple[Path, ...]:
    """The files that were written, each bearing the verdict of the findings."""
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.sheets import draw_all
    from neckmodel.sheets.pages.verdict import verdict_of
    from neckmodel.writers.base import DESPITE
    from neckmodel.writers.drawings.pages import DrawnJob
    from neckmodel.writers.folders.sheets import write_sheets

    drawn = draw_all(layout, findings, asked.papers, asked.kinds)
    remark = {"FAIL": DESPITE, "NOT CHECKED": "NOT CHECKED"}.get(verdict_of(layout, findings).word, "")
    with Progress(quiet) as step:
        return write_sheets(DrawnJob(layout.name, drawn, asked.unit, remark), folder, asked.formats, step)


def _say_json(name: str, verdict: Verdict, folder: Path, paths: Sequence[Path]) -> None:
    from neckmodel.cli.terminal.out import say_json

    files = [path.name for path in paths]
    say_json({"schema": SCHEMA, "name": name, "verdict": verdict.word, "folder": str(folder), "files": files})


def _say(verdict: Verdict, folder: Path, paths: Sequence[Path]) -> None:
    from neckmodel.cli.build import CAUTION
    from neckmodel.cli.terminal.table import show_lines

    show_lines(f"Drawn into {folder}:")
    for path in paths:
        show_lines(path.name, indent=2)
    if not paths:
        show_lines("nothing: no sheet that was asked for can become such a file", indent=2)
    show_lines("", verdict.says, "", CAUTION)


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


def _check_use(layout: Layout, kinds: Sequence[str]) -> None:
    from neckmodel.cli.guard import CallError
    from neckmodel.sheets.registry import KINDS

    for kind in kinds:
        if kind in KINDS and (why := KINDS[kind].unless(layout)):
            raise CallError(f"sheet {kind!r} is not drawn: {why}")


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
