"""A neck without a head as a solid: its wood against the integral over sections, its slot and holes by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from headless_samples import AT_HEEL, SMEW
from kind_samples import built, laid_out

from neckmodel.solids.kernel.gate import volume


def test_the_nut_end_is_the_stated_block_where_the_swell_has_ended() -> None:
    """Between x -34 and -30 nothing but the block: its sides, its under side and its square corners."""
    box = built(SMEW)["neck"].solid.BoundingBox()
    assert (box.xmin, box.ymin) == pytest.approx((-34.0, -box.ymax))
    solid = built(SMEW).carved
    for y in (-21.99, 21.99):
        assert solid.isInside((-33.99, y, -0.01))
        assert solid.isInside((-33.99, y, -16.99))
        assert not solid.isInside((-34.01, y, -1.0))
    assert not solid.isInside((-33.0, 22.01, -1.0))
    assert not solid.isInside((-33.0, 0.0, -17.01))
    assert not solid.isInside((-33.0, 0.0, 0.01))


def test_slot_and_holes_take_out_what_they_should() -> None:
    """By hand: the rod's steps as boxes and the slot's 40 mm, less the wood that none of them meets; the clamp's holes
    pi r r deep; the heel's screws pi r r over their bite."""
    layout, parts = laid_out(SMEW), built(SMEW)
    assert layout.clamp is not None
    taken = volume(parts.carved) - volume(parts["neck"].solid)
    steps = sum((s.x_end - s.x_start) * s.width * s.depth for s in layout.steps)
    holes = sum(math.pi * (s.diameter / 2) ** 2 * s.depth for s in layout.clamp.screws)
    holes += sum(math.pi * (s.hole / 2) ** 2 * s.bite for s in layout.screws)
    assert taken == pytest.approx(steps + holes, rel=2e-4)


def test_the_wood_grows_monotone_into_the_nut_end() -> None:
    """Areas of sections cut from the solid, from the nut to its end: never less by more than the shaft's own taper."""
    solid, areas = built(SMEW).carved, []
    for x in np.linspace(-1.0, -33.0, 9).tolist():
        from cadquery import Face, Wire

        corners = [(x, -60.0, 5.0), (x, 60.0, 5.0), (x, 60.0, -40.0), (x, -60.0, -40.0)]
        plane = Face.makeFromWires(Wire.makePolygon([*corners, corners[0]]))
        areas.append(solid.intersect(plane).Area())
    assert areas == sorted(areas)
    assert areas[-1] == pytest.approx(44.0 * 17.0, rel=1e-6)


def test_clamp_and_screws_are_parts_of_their_own() -> None:
    parts, layout = built(SMEW), laid_out(SMEW)
    assert layout.clamp is not None
    box = parts["clamp"].solid.BoundingBox()
    assert (box.xmin, box.xmax, box.ymin, box.ymax, box.zmin, box.zmax) == pytest.approx((-31, -5, -21, 21, 0, 12))
    assert {"clamp-screw-1", "clamp-screw-2"} <= {part.name for part in parts.parts}
    assert parts["clamp-screw-1"].solid.Volume() == pytest.approx(math.pi * 4 * 12, rel=1e-6)
    openings = {opening.name for opening in parts.openings}
    assert "nut end" in openings
    assert "head face" not in openings
    assert "nut end" not in {opening.name for opening in built(SMEW, *AT_HEEL).openings}
