"""STEP: one file for each part that is cut, lying as the setup says, and the assembly of all parts."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.errors import ExportError
from neckmodel.writers.base import Job, Target, refuse, titled
from neckmodel.writers.setups import LAYOUT, Placement, placement, setup_named
from neckmodel.writers.step.terms import SCHEMAS, UNITS
from neckmodel.writers.versions import PROGRAM

if TYPE_CHECKING:
    from neckmodel.writers.step.kernel import Body, Heading

LINE = 250  # a description string of the header may have 256 characters (ISO 10303-21, FILE_DESCRIPTION)


@dataclass(frozen=True)
class StepWriter:
    """STEP: one file for each part that is cut, and one for the assembly."""

    name: str = "step"
    suffix: str = ".step"
    says: str = "exact solids for CAM and CAD, a file for each part and one for all"

    def targets(self, job: Job) -> tuple[Target, ...]:
        """One file for each part that is cut, and the assembly."""
        if job.form.schema not in SCHEMAS:
            raise ExportError(f"STEP schema {job.form.schema!r} is not known; it is one of: {', '.join(SCHEMAS)}")
        if job.unit not in UNITS:
            raise ExportError(f"STEP unit {job.unit!r} is not known; it is one of: {', '.join(UNITS)}")
        setup = setup_named(job.form.setup).name
        single = tuple(
            Target(f"{job.stem}-{part.name}.step", (part.name,), f"{job.design} {part.name}, {setup}", setup)
            for part in job.bodies.chosen("wood", "stock", "jig")
        )
        everything = tuple(part.name for part in job.bodies.parts)
        return (*single, Target(f"{job.stem}-assembly.step", everything, f"{job.design} assembly"))

    def write(self, job: Job, target: Target, path: Path) -> None:
        """Writes the file."""
        from neckmodel.writers.step import kernel

        place = place_of(job, target)
        bodies = [
            kernel.Body(body.name, kernel.placed(body.shape, place), body.colour) for body in _bodies(job, target)
        ]
        kernel.write(path, bodies, _heading(job, target, place), job.form.schema, job.unit)

    def verify(self, job: Job, target: Target, path: Path) -> None:
        """Reads the file again, as text and by the kernel, and compares it with the solids."""
        from neckmodel.writers.step import check

        place = place_of(job, target)
        heading = _heading(job, target, place)
        refuse(path, check.problems(path, _bodies(job, target), place, heading, job.form.schema, job.unit))


def place_of(job: Job, target: Target) -> Placement:
    """How the parts lie in this file."""
    if target.setup is None:
        return LAYOUT
    return placement(setup_named(target.setup), job.bodies.box(target.parts[0]))


def _bodies(job: Job, target: Target) -> list[Body]:
    from neckmodel.writers.step.kernel import Body

    parts = map(job.bodies.part, target.parts)
    return [Body(part.name, part.solid, part.colour, job.bodies.facts(part.name)) for part in parts]


def _heading(job: Job, target: Target, place: Placement) -> Heading:
    from neckmodel.writers.step.kernel import Heading

    remark = (f"{job.remark}: {', '.join(job.failed)}",) if job.remark else ()
    lies = (
        f"Setup {target.setup}: {place.setup.says}." if target.setup else "Every part where the layout has it.",
        f"Origin: {place.origin}.",
        f"Up is +z: {place.up}.",
        f"Unit: {job.unit}.",
    )
    lines = [line for text in (*remark, titled(target.title, job), *lies) for line in textwrap.wrap(text, LINE)]
    return Heading(titled(target.title, job), tuple(lines), PROGRAM)
