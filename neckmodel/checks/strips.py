"""The neck's strips as parts of their own, with what is known of each: for exports that want them apart."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.bench import HARDWARE_LINEAR
from neckmodel.checks.run import fact_of
from neckmodel.meshes import mesh_of
from neckmodel.solids.strips import in_strips

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts


def as_strips(parts: Parts, findings: Findings) -> tuple[Parts, Findings]:
    """The parts with the neck in strips, and the findings with their facts in place of the neck's. The checks have
    measured the neck as the one piece that it is once glued."""
    apart = in_strips(parts)
    known = {fact.name: fact for fact in findings.parts}
    facts = tuple(
        known[part.name] if part.name in known else fact_of(part, mesh_of(part.solid, HARDWARE_LINEAR))
        for part in apart.parts
    )
    return apart, replace(findings, parts=facts)
