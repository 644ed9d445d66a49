"""`neckmodel jig`: printed or milled helpers, measured before they are written."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import File, Json, Quiet, Set

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.findings import Findings
    from neckmodel.jigs import Jig
    from neckmodel.layout import Layout
    from neckmodel.writers.manifest import Manifest

SCHEMA = "neckmodel/jig/1"


Kind = Annotated[
    str,
    typer.Argument(
        metavar="KIND",
        help="Which jig; `list` names the kinds and says which of them apply.",
        autocompletion=completion.jig_kinds,
    ),
]
Despite = Annotated[
    bool, typer.Option("--despite-findings", help="Export although a finding fails; every file then says so.")
]
Papers = Annotated[
    list[str] | None,
    typer.Option(
        "--paper",
        metavar="PAPER",
        help="Of the drawings: A4, A3, Letter, Tabloid or long; repeatable. Default: A4 or Letter by the unit.",
    ),
]
Folder = Annotated[
    str | None,
    typer.Option("--out", metavar="FOLDER", help="Export into this folder instead of exports/<name>-jig-<kind>."),
]


def jig(
    file: File,
    kind: Kind,
    *,
    despite_findings: Despite = False,
    papers: Papers = None,
    set_: Set = None,
    json: Json = False,
    out: Folder = None,
    quiet: Quiet = False,
) -> None:
    """Make a jig for the bench, export it if nothing fails. Into exports/<name>-jig-<kind>."""
    from neckmodel.cli.build import EXPORTS
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.terminal.findings import show_findings
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.cli.words import any_case
    from neckmodel.jigs import KINDS, kind_named
    from neckmodel.layout import lay_out
    from neckmodel.writers.base import file_stem

    (kind,) = any_case([kind], (*KINDS, "list"))
    if kind == "list":
        _list(lay_out(open_design(file, set_, quiet)), json)
        return
    chosen = kind_named(kind)
    on = _papers(papers or ())
    layout = lay_out(open_design(file, set_, quiet))
    chosen.refuse(layout)
    folder = Path(EXPORTS) / f"{file_stem(layout.name)}-jig-{kind}" if out is None else Path(out)
    _check_place(folder)
    with Progress(quiet) as step:
        made, findings = _made(layout, kind, step)
    if not json:
        show_findings(findings, layout.design)
    manifest: Manifest | None = None
    if findings.passed or despite_findings:
        with Progress(quiet) as step:
            manifest = _written(made, findings, folder, despite_findings, on, step)
    if json:
        _say_json(made, findings, manifest, folder, quiet)
    else:
        _conclude(made, manifest, folder)
    if not findings.passed:
        raise typer.Exit(FAILED)


def _say_json(made: Jig, findings: Findings, manifest: Manifest | None, folder: Path, quiet: bool) -> None:
    """The findings with what was written on stdout, the cautions on stderr too."""
    from neckmodel.cli.terminal.out import say_json, tell
    from neckmodel.work.cautions import JIG as CAUTION
    from neckmodel.writers.jsons import findings_json

    say_json(
        {
            **findings_json(findings),
            "schema": SCHEMA,
            "kind": made.kind,
            "beds": made.beds,
            "remarks": list(made.remarks),
            "cautions": CAUTION,
            "folder": str(folder) if manifest else None,
            "files": [fact.file for fact in manifest.files] if manifest else [],
        }
    )
    tell("" if quiet else CAUTION)


def _made(layout: Layout, kind: str, step: Progress) -> tuple[Jig, Findings]:
    from neckmodel.jigs import inspect, make_jig
    from neckmodel.solids.kernel.load import load_cadquery

    step("loading the CAD kernel")
    load_cadquery()
    step(f"making {kind} for {layout.name}")
    made = make_jig(layout, kind)
    step(f"measuring {kind}")
    return made, inspect(made)


def _written(
    made: Jig, findings: Findings, folder: Path, despite: bool, papers: Sequence[str], step: Progress
) -> Manifest:
    from neckmodel.writers.folders.jig import write_jig

    return write_jig(
        made,
        findings,
        folder,
        despite_findings=despite,
        papers=papers,
        progress=step,
    )


def _papers(names: Sequence[str]) -> tuple[str, ...]:
    from neckmodel.cli.guard import CallError
    from neckmodel.errors import ExportError
    from neckmodel.sheets.registry import papers_named

    try:
        return papers_named(names, "mm") if names else ()
    except ExportError as error:
        raise CallError(str(error)) from None


def _check_place(folder: Path) -> None:
    """Raises an error where the folder could not take the files: before minutes of work, not after."""
    from neckmodel.cli.guard import CallError
    from neckmodel.errors import ExportError
    from neckmodel.writers.folders.export import try_export

    try:
        try_export(folder)
    except ExportError as error:
        raise CallError(str(error)) from None


def _list(layout: Layout, json: bool) -> None:
    """Every kind, with the reason where it does not apply to this design."""
    from neckmodel.cli.terminal.out import say_json
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.jigs import KINDS, JigError

    reasons: dict[str, str | None] = {}
    for kind in KINDS.values():
        try:
            kind.refuse(layout)
            reasons[kind.name] = None
        except JigError as error:
            reasons[kind.name] = str(error)
    if json:
        kinds = [{"kind": name, "says": KINDS[name].says, "refused": why} for name, why in reasons.items()]
        say_json({"schema": "neckmodel/jigs/1", "name": layout.name, "kinds": kinds})
        return
    for name, why in reasons.items():
        show_lines(f"{name}: {KINDS[name].says}" if why is None else f"{name}: does not apply: {why}", hang=2)


def _conclude(made: Jig, manifest: Manifest | None, folder: Path) -> None:
    """Prints what was written, how the jig is used, and the cautions."""
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.work.cautions import JIG as CAUTION

    show_lines("", f"Pieces, on {made.beds} bed{'s' if made.beds > 1 else ''}:")
    for piece in made.printed:
        show_lines(f"{piece.part.name}: {piece.says}; bed {piece.bed}", indent=2, hang=2)
    show_lines("")
    for remark in made.remarks:
        show_lines(remark)
    if manifest is None:
        show_lines("", "Nothing was exported, because a finding fails; see above.")
    else:
        show_lines("", f"Exported into {folder}:")
        for fact in manifest.files:
            show_lines(f"{fact.file}  ({fact.size / 1000:.0f} kB)", indent=2)
        show_lines("manifest.json  (what each file is, and its SHA-256)", indent=2)
    show_lines("", CAUTION)
