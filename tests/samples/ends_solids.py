"""Built necks, each once a run, and what is measured on their exact solids by the kernel alone."""

from __future__ import annotations

from functools import cache

import cadquery as cq
from ends_samples import design
from measured_runs import found_on, measured_parts

from neckmodel.checks.bench import Bench
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.solids.assembly import glued_regions, grooved, openings, wood_parts
from neckmodel.solids.channel import holes, tools
from neckmodel.solids.kernel.gate import is_sound, volume
from neckmodel.solids.kernel.subtraction import take
from neckmodel.solids.neck.neck import carved_neck
from neckmodel.solids.parts import Parts


@cache
def laid_out(*sections: str) -> Layout:
    return lay_out(design(*sections))


@cache
def built(*sections: str) -> Parts:
    """Neck and glued parts, as `build` makes them, and nothing else: these tests look at no fretboard, blank or rod."""
    return wooden(laid_out(*sections))


def wooden(layout: Layout) -> Parts:
    cutters, drilled, regions = tools(layout), holes(layout), glued_regions(layout)
    carved = grooved(layout, carved_neck(layout))
    cut = take(carved, [tool.solid for tool in (*cutters, *drilled)], "cutting the neck")
    return Parts(layout, wood_parts(cut, regions), carved, cutters, openings(layout), drilled, regions)


@cache
def found_all(*sections: str) -> Findings:
    """What the checks find, without facts about the parts."""
    return found_on(Bench(measured_parts(laid_out(*sections))))


def glued(parts: Parts) -> dict[str, cq.Solid]:
    """The neck and what is glued to it."""
    names = ("neck", *(region.step for region in parts.regions))
    return {name: parts[name].solid for name in names}


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> cq.Solid:
    size = (x[1] - x[0], y[1] - y[0], z[1] - z[0])
    return cq.Solid.makeBox(*size, cq.Vector(x[0], y[0], z[0]))


def share(solid: cq.Solid, region: cq.Solid) -> float:
    """Volume of the solid inside a region, mm3."""
    return volume(solid.intersect(region))


def lowest(solid: cq.Solid, x: float, y: float = 0.0) -> float:
    """z of the solid's lowest point on an upright line, by the kernel's exact intersection."""
    edge = cq.Edge.makeLine(cq.Vector(x, y, -150), cq.Vector(x, y, 50))
    return float(solid.intersect(edge).BoundingBox(1e-7).zmin)


def assert_sound(parts: Parts) -> None:
    """Every glued part is one valid solid; together they are the carved neck less what is cut from it."""
    whole = volume(parts.carved.cut(*(tool.solid for tool in (*parts.tools, *parts.holes))))
    pieces = glued(parts)
    for solid in pieces.values():
        assert len(solid.Solids()) == 1
        assert is_sound(solid)
    assert abs(sum(volume(solid) for solid in pieces.values()) - whole) < 1e-5 * whole
    names = list(pieces)
    for k, one in enumerate(names):  # they touch and share nothing
        for two in names[k + 1 :]:
            assert volume(pieces[one].intersect(pieces[two])) < 1e-3
