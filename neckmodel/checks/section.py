"""section/nut: what is left of the cross-section where the neck is weakest."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.measure.section import sections
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.findings import Finding
from neckmodel.meshes import from_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

LEAST_AREA = 0.70  # of the area of the same section without the channel
LEAST_MODULUS = 0.75  # of its section modulus at the back
OFF_FACE = 0.05  # mm, a section is taken this far off a face square to x


def check_section(bench: Bench) -> list[Finding]:
    """Area and back's modulus with the channel against without it, at the nut and behind it; the worse counts."""
    layout = bench.layout
    stations = [OFF_FACE, layout.head.x_line / 2, layout.head.x_line + OFF_FACE]
    whole = sections(bench.neck.mesh.mesh, stations)
    left = sections(from_manifold(bench.cut_wood), stations)
    shares = []
    for x, full, cut in zip(stations, whole, left, strict=True):
        if full is not None and cut is not None:
            shares.append(
                (cut.area / full.area, cut.modulus_low / full.modulus_low, cut.modulus_high / full.modulus_high, x)
            )
    if not shares:
        return []
    area, back, face, x = min(shares, key=lambda s: min(s[0] / LEAST_AREA, s[1] / LEAST_MODULUS))
    thin = area < LEAST_AREA - SLACK or back < LEAST_MODULUS - SLACK
    return [
        Finding(
            "section/nut",
            "neck",
            "warn" if thin else "pass",
            f"the channel leaves {area:.2f} of the area, {back:.2f} of the modulus at the back and {face:.2f} at the "
            "glue plane; the strings pull on the back",
            area,
            0.005,
            LEAST_AREA,
            "share",
            basis=COMMON,
            at=place(layout, (x, 0.0, -layout.back.depth(x))),
            more={"area": round(area, 4), "modulus_back": round(back, 4), "modulus_glue_plane": round(face, 4)},
        )
    ]
