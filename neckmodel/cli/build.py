"""`neckmodel build`: check, then export."""

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
    from neckmodel.writers.manifest import Manifest

EXPORTS = "exports"
CAUTION = (
    "The numbers hold for the design as stated: they measure the model, not the wood in your hands, and strength and "
    "relief are estimates. The machine maker's manual, the product's data sheet and your local rules come first. Make "
    "a trial cut in scrap, and measure it."
)


Formats = Annotated[
    list[str] | None,
    typer.Option(
        "--format",
        metavar="FORMAT",
        help="step, stl, 3mf or glb; repeatable. Default: step and stl.",
        autocompletion=completion.formats,
    ),
]
Setup = Annotated[
    str,
    typer.Option(
        "--setup",
        metavar="SETUP",
        help="How parts lie in STEP: glue-up, glue-up-bed, back-up or back-up-bed.",
        autocompletion=completion.setups,
    ),
]
WithSheets = Annotated[
    bool, typer.Option("--with-sheets", help="Add the sheets for the bench and the contours for machines.")
]
WithReport = Annotated[bool, typer.Option("--with-report", help="Add the page that shows everything.")]
InStrips = Annotated[bool, typer.Option("--strips", help="The neck of a board of strips as one part for each strip.")]
Despite = Annotated[
    bool, typer.Option("--despite-findings", help="Export although a check fails; every file then says so.")
]
Folder = Annotated[
    str | None,
    typer.Option("--out", metavar="FOLDER", help="Export into this folder instead of exports/<name>."),
]


def build(
    file: File,
    *,
    formats: Formats = None,
    setup: Setup = "glue-up",
    with_sheets: WithSheets = False,
    with_report: WithReport = False,
    strips: InStrips = False,
    despite_findings: Despite = False,
    set_: Set = None,
    json: Json = False,
    out: Folder = None,
    quiet: Quiet = False,
) -> None:
    """Check the design and export it, if no check fails. It goes into exports/<name>."""
    from pathlib import Path

    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.running import measured, show
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.cli.words import any_case
    from neckmodel.export import FORMATS, write
    from neckmodel.layout import lay_out
    from neckmodel.writers import registry
    from neckmodel.writers.base import file_stem
    from neckmodel.writers.setups import SETUPS

    layout = lay_out(open_design(file, set_, quiet))
    folder = Path(EXPORTS) / file_stem(layout.name) if out is None else Path(out)
    wanted = tuple(dict.fromkeys(any_case(formats, registry.FORMATS) or FORMATS))
    (setup,) = any_case([setup], SETUPS)
    _check_call(wanted, setup, folder)
    _check_strips(layout, asked=strips)
    with Progress(quiet) as step:
        parts, findings = measured(layout, step)
    if not json:
        show(findings, layout, json=False, quiet=quiet)
    manifest: Manifest | None = None
    if findings.passed or despite_findings:
        with Progress(quiet) as step:
            manifest = write(
                parts,
                findings,
                folder,
                formats=wanted,
                setup=setup,
                sheets=with_sheets,
                report=with_report,
                strips=strips,
                despite_findings=despite_findings,
                progress=step,
            )
    if json:
        _conclude_json(findings, layout, manifest, folder, quiet)
    else:
        _conclude(findings, manifest, folder, setup)
    if not findings.passed:
        raise typer.Exit(FAILED)


def _check_call(formats: Sequence[str], setup: str, folder: Path) -> None:
    """Raises an error where the export could not be written: before minutes of work, not after."""
    from neckmodel.cli.guard import CallError
    from neckmodel.errors import ExportError
    from neckmodel.writers.folders.export import try_export
    from neckmodel.writers.registry import format_named
    from neckmodel.writers.setups import setup_named

    try:
        for name in formats:
            format_named(name)
        setup_named(setup)
        try_export(folder)
    except ExportError as error:
        raise CallError(str(error)) from None


def _check_strips(layout: Layout, *, asked: bool) -> None:
    """Raises an error where strips are asked for as parts, and the board has none."""
    from neckmodel.cli.guard import CallError

    if asked and not layout.strips:
        says = "this design's board is not glued up from strips; state board.strips, or leave it out"
        raise CallError(f"--strips: {says}")


def _conclude(findings: Findings, manifest: Manifest | None, folder: Path, setup: str) -> None:
    """Prints what was written, how the parts lie in it, and the cautions."""
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.writers.setups import setup_named

    failed = ", ".join(findings.failed)
    if manifest is None:
        show_lines(
            "",
            f"Nothing was exported, because a check fails: {failed}. Change the design as said above, or export with "
            "--despite-findings; every file then says so.",
        )
    else:
        show_lines("", f"Exported into {folder}:")
        for fact in manifest.files:
            show_lines(f"{fact.file}  ({fact.size / 1000:.0f} kB)", indent=2)
        show_lines("manifest.json  (what each file is, and its SHA-256)", indent=2)
        if any(fact.format == "step" for fact in manifest.files):
            show_lines(f"The STEP file of each part lies: {setup_named(setup).says}.")
        if failed:
            show_lines(f"EXPORTED DESPITE FAILED CHECKS: {failed}")
    show_lines("", CAUTION)


def _conclude_json(findings: Findings, layout: Layout, manifest: Manifest | None, folder: Path, quiet: bool) -> None:
    """Prints the findings and what was written as JSON, and the cautions beside it."""
    from neckmodel.cli.running import show
    from neckmodel.cli.terminal.out import tell

    files = [fact.file for fact in manifest.files] if manifest else []
    more = {"folder": str(folder) if manifest else None, "files": files}
    show(findings, layout, json=True, quiet=quiet, more=more)
    tell("" if quiet else CAUTION)
