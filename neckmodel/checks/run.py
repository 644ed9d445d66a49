"""Runs all checks on one design."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.bench import Bench
from neckmodel.checks.registry import functions
from neckmodel.checks.remedies.next import tell_as_built
from neckmodel.checks.remedies.remedy import as_set_in, either
from neckmodel.errors import MeshError
from neckmodel.findings import VERDICTS, Finding, Findings, PartFact, ways_of
from neckmodel.solids.kernel.gate import is_sound, volume
from neckmodel.work.one_piece import without_seam

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.solids.parts import Part, Parts


def check(parts: Parts, progress: Callable[[str], None] | None = None) -> Findings:
    """Measures the solids and compares every number with its limit; worst first.

    progress: called with a short text before each check. Raises MeshError where a solid's mesh does not close, or where
    the exact neck differs from the measured one.
    """
    bench = Bench(parts.measured)
    assert_same_wood(bench)
    found = find(bench, progress)
    return Findings(parts.layout.name, found, tuple(_fact(bench, part) for part in parts.parts))


def find(bench: Bench, progress: Callable[[str], None] | None = None) -> tuple[Finding, ...]:
    """The findings of every check, worst first, as they are printed: places on the finished neck, remedies as the
    design's file takes them."""
    found: list[Finding] = []
    for function in functions():
        if progress is not None:
            progress(function.__name__.removeprefix("check_").replace("_", " "))
        found += as_printed(function(bench), bench)
    return tuple(sorted(found, key=_rank))


def as_printed(found: list[Finding], bench: Bench) -> list[Finding]:
    """A check's findings as they are printed: with what was measured, remedies as the design's file takes them, and
    places on the finished neck."""
    cuts = bench.next_cuts if bench.design.measured else None
    found = [_as_stated(finding, bench) for finding in tell_as_built(found, bench.layout, cuts)]
    if bench.layout.in_one:
        found = [replace(finding, says=without_seam(finding.says)) for finding in found]
    return [_mirrored(finding) for finding in found] if bench.layout.left_handed else found


def _as_stated(finding: Finding, bench: Bench) -> Finding:
    """The finding, its remedy's settings as this design's file takes them."""
    if finding.remedy is None:
        return finding
    return replace(finding, remedy=either(*[as_set_in(bench.design, way) for way in ways_of(finding.remedy)]))


def _mirrored(finding: Finding) -> Finding:
    """The finding with its place on a left-handed neck."""
    at = finding.at
    return finding if at is None else replace(finding, at=replace(at, y=-at.y + 0.0))


def _rank(finding: Finding) -> tuple[int, float, str]:
    """Order of a finding: worst verdict first, then the least to spare against the limit, then by name."""
    return VERDICTS.index(finding.verdict), finding.spare, finding.check


def _fact(bench: Bench, part: Part) -> PartFact:
    return fact_of(part, bench.mesh(part.name), bench.layout.left_handed)


def fact_of(part: Part, mesh: trimesh.Trimesh, mirrored: bool = False) -> PartFact:
    """What is known of a part. mirrored: the mesh is the part's mirror image."""
    (x0, y0, z0), (x1, y1, z1) = np.round(np.asarray(mesh.bounds), 4).tolist()
    if mirrored:
        y0, y1 = -y1 + 0.0, -y0 + 0.0
    return PartFact(
        name=part.name,
        volume=round(volume(part.solid), 3),
        bounds=(x0, y0, z0, x1, y1, z1),
        solids=len(part.solid.Solids()),
        valid=is_sound(part.solid),
        watertight=bool(mesh.is_watertight),
    )


ALLOWED = 60.0  # mm3 by which meshes and the kernel's integrals are off, and a wall that is broken through


A_HOLE = 6.0  # mm3 for each round hole, whose mesh has flat sides


SHARE = 0.002  # of what was taken out


BROKEN = 0.02  # the same where a channel comes out along the skin, of which the mesh lies inside


def assert_same_wood(bench: Bench) -> None:
    """Raises MeshError where cutting the exact solids has removed another volume than cutting their meshes."""
    exact = volume(bench.parts.carved) - sum(volume(bench.parts[name].solid) for name in bench.wood_names)
    if bench.parts.fretboard is not None:
        exact += volume(bench.parts.fretboard)
    meshed = bench.neck.wood.volume() - bench.drilled.volume()
    share = BROKEN if any(wall.wall < 0 for wall in bench.layout.walls) else SHARE
    allowed = ALLOWED + A_HOLE * len(bench.parts.holes) + share * abs(exact)
    if abs(exact - meshed) > allowed:
        raise MeshError(
            f"cutting the neck took {exact:.1f} mm3 out of the solid and {meshed:.1f} mm3 out of its mesh; "
            f"up to {allowed:.1f} mm3 of difference is usual"
        )
