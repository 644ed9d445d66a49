"""Parametric neck blanks for fretted instruments: read a design, lay it out, build it, check it, write it.

    import neckmodel

    design = neckmodel.read("redpoll.toml")
    parts = neckmodel.build(neckmodel.lay_out(design))
    findings = neckmodel.check(parts)
    neckmodel.write(parts, findings, "exports/redpoll", formats=["step", "stl"])

Every name is loaded on first use, so that `import neckmodel` costs nothing and needs no CAD kernel.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.checks import check
    from neckmodel.design import Design, read
    from neckmodel.export import write
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout, lay_out
    from neckmodel.report import write_report
    from neckmodel.solids import build
    from neckmodel.solids.parts import Parts

__all__ = ["Design", "Findings", "Layout", "Parts", "build", "check", "lay_out", "read", "write", "write_report"]

_HOMES = {
    "Design": "neckmodel.design",
    "Findings": "neckmodel.findings",
    "Layout": "neckmodel.layout",
    "Parts": "neckmodel.solids.parts",
    "build": "neckmodel.solids",
    "check": "neckmodel.checks",
    "lay_out": "neckmodel.layout",
    "read": "neckmodel.design",
    "write": "neckmodel.export",
    "write_report": "neckmodel.report",
}


def __getattr__(name: str) -> object:
    if name == "__version__":
        from importlib.metadata import PackageNotFoundError, version

        try:
            return version("neckmodel")
        except PackageNotFoundError:  # run from its source, not installed
            return "unknown"
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(_HOMES[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__, "__version__"})
