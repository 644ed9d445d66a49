"""Checks measure the solids, never the intention."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts


def check(parts: Parts, progress: Callable[[str], None] | None = None) -> Findings:
    """Measures the solids and compares every number with its limit; worst first. See `run.check`."""
    from neckmodel.checks.run import check as run  # kept inside: the texts of `registry` need no kernel

    return run(parts, progress)


def prove(parts: Parts, findings: Findings, progress: Callable[[str], None] | None = None) -> Findings:
    """Tries every remedy of a failing finding on a copy, and keeps only those that worked. See `proof.prove`."""
    from neckmodel.checks.proof import prove as run

    return run(parts, findings, progress)
