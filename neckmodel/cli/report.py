"""`neckmodel report`: build, check, and write one page with everything."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli.options import File, Json, Quiet, Set

FOLDER = "exports"
SCHEMA = "neckmodel/report/1"


def report(
    file: File,
    set_: Set = None,
    json: Json = False,
    out: Annotated[
        str | None,
        typer.Option("--out", metavar="FOLDER", help=f"Write into this folder instead of {FOLDER}/."),
    ] = None,
    quiet: Quiet = False,
) -> None:
    """Write one HTML page with everything about the design. It opens offline. A failed check is shown, not refused."""
    from neckmodel.cli.build import CAUTION
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.running import measured, remarks
    from neckmodel.cli.saving import refuse_place
    from neckmodel.cli.terminal.findings import summary
    from neckmodel.cli.terminal.out import say_json, tell
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.layout import lay_out
    from neckmodel.report import write_report
    from neckmodel.report.writing import file_name

    layout = lay_out(open_design(file, set_, quiet))
    folder = FOLDER if out is None else out
    refuse_place(folder, file_name(layout.name))
    with Progress(quiet) as step:
        parts, findings = measured(layout, step)
        path = write_report(parts, findings, folder, step.detail)
    size = path.stat().st_size
    if json:
        say_json({"schema": SCHEMA, "name": layout.name, "passed": findings.passed, "file": str(path), "size": size})
        tell("" if quiet else CAUTION)
    else:
        show_lines(summary(findings), hang=8)
        show_lines(
            "", f"Written: {path}  ({size / 1000:.0f} kB; it opens in a browser, without a network)", "", CAUTION
        )
    remarks(layout, quiet)
    if not findings.passed:
        raise typer.Exit(FAILED)
