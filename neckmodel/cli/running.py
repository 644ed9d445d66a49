"""What `check` and `build` share: from a layout to parts and findings, and the printing of findings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from neckmodel.cli.terminal.findings import show_findings
from neckmodel.cli.terminal.out import say_json, tell
from neckmodel.cli.terminal.progress import Progress

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.solids.parts import Parts


def measured(layout: Layout, step: Progress) -> tuple[Parts, Findings]:
    """Builds and checks, and tries the remedies of what fails, naming each step.

    Raises MissingLibraryError where the CAD kernel cannot be loaded.
    """
    step("loading the CAD kernel")
    from neckmodel.solids.kernel.load import load_cadquery

    load_cadquery()
    step(f"building {layout.name}")
    from neckmodel.solids import build

    parts = build(layout)
    step(f"measuring {layout.name}")
    from neckmodel.checks import check, prove

    return parts, prove(parts, check(parts, step.detail), step)


def show(
    findings: Findings, layout: Layout, *, json: bool, quiet: bool, more: Mapping[str, object] | None = None
) -> None:
    """Prints the findings on stdout, as text or as JSON (with `more` beside them), and the layout's remarks on
    stderr."""
    if json:
        from neckmodel.writers.jsons import findings_json

        say_json({**findings_json(findings), **(more or {})})
    else:
        show_findings(findings, layout.design)
    remarks(layout, quiet)


def remarks(layout: Layout, quiet: bool) -> None:
    """Prints on stderr what is unusual in the design or follows from it unexpectedly. Nothing is refused."""
    if not quiet:
        from neckmodel.design import remarks as of_design
        from neckmodel.lengths import in_unit

        for remark in (*of_design(layout.design), *layout.remarks):
            tell(f"neckmodel: remark: {in_unit(remark, layout.design.design.units)}")
