"""Printed or milled helpers from the same design. Importing the types needs no CAD kernel; making a jig loads it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.jigs.registry import KINDS, kind_named
from neckmodel.jigs.types import Jig, JigError, Printed

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

__all__ = ["KINDS", "Jig", "JigError", "Printed", "inspect", "kind_named", "make_jig"]


def make_jig(layout: Layout, kind: str) -> Jig:
    """One kind of jig for one design; see `make.make_jig`."""
    from neckmodel.jigs.make import make_jig as run  # kept inside: it loads the kernel

    return run(layout, kind)


def inspect(jig: Jig) -> Findings:
    """Measures the finished jig; see `inspection.inspect_jig`."""
    from neckmodel.jigs.inspection import inspect_jig

    return inspect_jig(jig)
