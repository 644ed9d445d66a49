"""`neckmodel check`: build in memory, measure, print the findings."""

from __future__ import annotations

import typer

from neckmodel.cli.options import File, Json, Out, Quiet, Set


def check(file: File, set_: Set = None, json: Json = False, out: Out = None, quiet: Quiet = False) -> None:
    """Build the neck in memory, measure it, tell what was found. Exports nothing."""
    from neckmodel.cli.guard import FAILED
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.running import measured, show
    from neckmodel.cli.saving import refuse_place, save
    from neckmodel.cli.terminal.progress import Progress
    from neckmodel.layout import lay_out
    from neckmodel.writers.jsons import dumps, findings_json

    layout = lay_out(open_design(file, set_, quiet))
    refuse_place(out, "findings.json")
    with Progress(quiet) as step:
        _, findings = measured(layout, step)
    show(findings, layout, json=json, quiet=quiet)
    if out is not None:
        save(out, "findings.json", dumps(findings_json(findings)), overwrite=True)
    if not findings.passed:
        raise typer.Exit(FAILED)
