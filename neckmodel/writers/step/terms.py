"""The names of STEP's schemas and units: a maker's, the kernel's and the files'."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.units import MM_PER


@dataclass(frozen=True)
class Schema:
    """kernel: the kernel's word for the schema. file: how the schema's name begins in the file's header."""

    kernel: str
    file: str


@dataclass(frozen=True)
class Unit:
    """kernel: the kernel's word for the unit. mm: its length."""

    kernel: str
    mm: float


SCHEMAS = {  # the first is the default: the one most programs read (common practice, no source)
    "AP214": Schema("AP214IS", "AUTOMOTIVE_DESIGN"),
    "AP242": Schema("AP242DIS", "AP242_MANAGED_MODEL"),
    "AP203": Schema("AP203", "CONFIG_CONTROL_DESIGN"),
}
UNITS = {"mm": Unit("MM", 1.0), "inch": Unit("INCH", float(MM_PER["inch"]))}
