"""access/body: the pockets that the body needs for an adjuster at the heel and its key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.each import each_rod
from neckmodel.checks.verdict import SLACK, place
from neckmodel.findings import Finding, told_finding

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.body.recess import Recess

SIZES = ("x_start", "x_end", "width", "depth", "swing")


@each_rod
def check_recess(bench: Bench) -> list[Finding]:
    """A finding with the pocket's numbers. The body is not built, so nothing is measured against a limit."""
    recesses = bench.layout.recesses
    if not recesses:
        return []
    deepest = max(recesses, key=lambda recess: recess.depth)
    numbers = {f"{r.name}_{size}": round(getattr(r, size), 4) for r in recesses for size in SIZES}
    return [
        told_finding(
            check="access/body",
            part="rod" if bench.layout.key is None else "adjusting-key",
            says="the body needs a recess " + "; ".join(_says(recess) for recess in recesses),
            measured=deepest.depth,
            error=SLACK,
            basis="geometry",
            at=place(bench.layout, (deepest.x_start, deepest.y, -deepest.depth)),
            more=numbers,
        )
    ]


def _says(recess: Recess) -> str:
    deep = f"{recess.depth:.2f} mm below the glue plane and {recess.below_top:.2f} mm below the body's top"
    if recess.below_top <= 0:
        deep = f"{recess.depth:.2f} mm below the glue plane, above the body's top"
    turns = f", in which it turns by {recess.swing:.0f} degrees" if recess.swing else ""
    where = f"from x {recess.x_start:.2f} to {recess.x_end:.2f} mm"
    return f"for the {recess.name} {where}, {recess.width:.2f} mm wide, {deep}{turns}"
