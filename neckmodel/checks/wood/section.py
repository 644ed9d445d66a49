"""section/nut: how much of the cross-section is left where the neck is weakest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.section import sections
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.findings import PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.step import FOR_THE_KEY
from neckmodel.limits import LEAST_AREA, LEAST_MODULUS
from neckmodel.meshes import from_manifold, less, mesh_of, to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout import Layout

SHARE_ERROR = 0.005  # error of a share: the back's modulus is known to half a percent where little is left
SECTION_LINEAR = 0.1  # mm, deflection of the neck's mesh for sections
OFF_FACE = 0.05  # mm by which a section is kept off a face square to x


@dataclass(frozen=True)
class _Left:
    """Shares that the channel leaves at x: of the area, of the modulus at the back and at the glue plane."""

    x: float
    area: float
    back: float
    face: float

    @property
    def by_back(self) -> bool:
        """Whether the back's modulus comes nearer to its limit than the area."""
        return self.back / LEAST_MODULUS < self.area / LEAST_AREA

    @property
    def worst(self) -> float:
        return min(self.area / LEAST_AREA, self.back / LEAST_MODULUS)


def _stations(layout: Layout) -> list[float]:
    """x of the sections: at the nut, under it, at the head line or behind the nut, and in each step cut behind it for
    the key, mm."""
    behind = layout.nut.x_start if layout.head.is_none else layout.head.x_line
    stations = [OFF_FACE, behind / 2, behind + OFF_FACE]
    for step in layout.steps:
        if step.kind in FOR_THE_KEY:
            stations += [x for x in np.linspace(step.x_start, step.x_end, 5)[1:-1].tolist() if x < 0]
    return stations


def check_section(bench: Bench) -> list[Finding]:
    """Area and back's modulus with the channel over those without it, at the nut and behind it; the worst counts."""
    layout = bench.layout
    stations = _stations(layout)
    mesh = mesh_of(bench.parts.carved, SECTION_LINEAR)
    whole = sections(mesh, stations)
    left = sections(from_manifold(less(to_manifold(mesh, "the carved neck"), (bench.channel,))), stations)
    shares = [
        _Left(x, cut.area / full.area, cut.modulus_low / full.modulus_low, cut.modulus_high / full.modulus_high)
        for x, full, cut in zip(stations, whole, left, strict=True)
        if full is not None and cut is not None
    ]
    if not shares:
        return []
    found = min(shares, key=lambda share: share.worst)
    measured, limit = (found.back, LEAST_MODULUS) if found.by_back else (found.area, LEAST_AREA)
    thin = measured < limit - SLACK
    says = (
        f"the channel leaves {found.area:.2f} of the area, {found.back:.2f} of the modulus at the back and "
        f"{found.face:.2f} of it at the glue plane; the strings pull on the back"
    )
    if not layout.steps:
        says = "no channel is cut: the section is whole; the strings pull on the back"
    return [
        limit_finding(
            check="section/nut",
            part="neck",
            verdict=WARN if thin else PASS,
            says=says + ("; a knock may break the neck here" if thin else ""),
            measured=measured,
            error=SHARE_ERROR,
            limit=limit,
            unit="share",
            basis=COMMON,
            at=place(layout, (found.x, 0.0, -layout.outside.keel(found.x))),
            more={
                "area": round(found.area, 4),
                "modulus_back": round(found.back, 4),
                "modulus_glue_plane": round(found.face, 4),
            },
        )
    ]
