"""The wood that is exported against the wood that is measured: two routes, the kernel's and the meshes'."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.errors import MeshError
from neckmodel.solids.kernel.gate import volume

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

ALLOWED = 60.0  # mm3 by which meshes and the kernel's integrals are off, and a wall that is broken through
A_HOLE = 6.0  # mm3 for each round hole, whose mesh has flat sides
SHARE = 0.002  # of what was taken out
BROKEN = 0.02  # the same where a channel comes out along the skin, of which the mesh lies inside


def assert_same_wood(bench: Bench) -> None:
    """Raise MeshError where cutting the exact solids took out something else than cutting their meshes did."""
    exact = volume(bench.parts.carved) - sum(volume(bench.parts[name].solid) for name in bench.wood_names)
    meshed = bench.neck.wood.volume() - bench.drilled.volume()
    share = BROKEN if any(wall.wall < 0 for wall in bench.layout.walls) else SHARE
    allowed = ALLOWED + A_HOLE * len(bench.parts.holes) + share * abs(exact)
    if abs(exact - meshed) > allowed:
        raise MeshError(
            f"cutting the neck took {exact:.1f} mm3 out of the solid and {meshed:.1f} mm3 out of its mesh; "
            f"up to {allowed:.1f} mm3 of difference is usual"
        )
