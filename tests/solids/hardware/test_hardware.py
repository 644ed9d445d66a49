"""Hardware's envelopes: places, sizes and volumes against closed forms, with no two sizes alike."""

from __future__ import annotations

import math
from pathlib import Path

import cadquery as cq
import numpy as np
import pytest
from hardware_cases import away, bounds

import neckmodel
from neckmodel.errors import KernelError
from neckmodel.layout.fretboard.nut import NutPlace
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.rod.bars import BAR_FIT, Bar
from neckmodel.solids.colours import COLOURS, colour_of
from neckmodel.solids.hardware.hardware import (
    bar_solid,
    hardware_parts,
    nut_solid,
    screw_solid,
    tuner_solid,
)
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.kernel.turned import rod_of, turned

PRESET = Path(__file__).parents[3] / "presets" / "redpoll.toml"


class TestNut:
    def test_place_and_size(self) -> None:
        solid = nut_solid(NutPlace(-7.2, -2.1, 21.7, -1.9, 8.4))
        assert bounds(solid) == pytest.approx((-7.2, -2.1, -21.7, 21.7, -1.9, 6.5), abs=1e-6)
        assert volume(solid) == pytest.approx(5.1 * 43.4 * 8.4, rel=1e-9)


class TestBar:
    def test_in_the_middle_of_its_channel(self) -> None:
        bar = Bar("bar-2", 9.5, 391.2, 10.3, 4.1, 8.7, "steel", (), ())
        solid = bar_solid(bar)
        top = -BAR_FIT / 2
        assert bounds(solid) == pytest.approx((9.5, 391.2, 8.25, 12.35, top - 8.7, top), abs=1e-6)
        # its channel is BAR_FIT deeper than the bar: as much glue under it as over it
        assert -(8.7 + BAR_FIT) - (top - 8.7) == pytest.approx(-BAR_FIT / 2, abs=1e-12)
        assert volume(solid) == pytest.approx(381.7 * 4.1 * 8.7, rel=1e-9)


class TestScrews:
    SCREW = Screw("screw-3", "wood-screw", 447.5, -16.8, -19.2, -1.3, 17.9, 4.6, 2.8, 45.0)

    def test_a_wood_screw_is_as_long_as_stated_and_ends_in_a_point(self) -> None:
        solid = screw_solid(self.SCREW)
        assert bounds(solid) == pytest.approx((445.2, 449.8, -19.1, -14.5, -46.3, -1.3), abs=1e-5)
        assert volume(solid) == pytest.approx(math.pi * 2.3**2 * (45.0 - 4.6 + 4.6 / 3), rel=1e-9)
        assert away(solid, (447.5, -16.8, -1.0)) == pytest.approx(0.3, abs=1e-6)
        assert not solid.isInside(cq.Vector(447.5 + 1.5, -16.8, -1.3 - 2.0))  # beside the cone: 1.0 wide there
        assert solid.isInside(cq.Vector(447.5 + 0.9, -16.8, -1.3 - 2.0))

    @pytest.mark.parametrize(("name", "kind"), [("insert-1", "insert"), ("dowel-2", "dowel")])
    def test_inserts_and_dowels_are_cylinders(self, name: str, kind: str) -> None:
        placed = Screw(name, kind, 430.1, 12.2, -19.2, -6.7, 12.5, 8.3, 8.3, 12.5)
        solid = screw_solid(placed)
        assert bounds(solid) == pytest.approx((425.95, 434.25, 8.05, 16.35, -19.2, -6.7), abs=1e-5)
        assert volume(solid) == pytest.approx(math.pi / 4 * 8.3**2 * 12.5, rel=1e-9)


class TestTuner:
    @pytest.mark.parametrize("angle", [0.0, 13.0])
    def test_every_part_lies_square_to_the_face(self, angle: float) -> None:
        turn = math.radians(angle)
        axis = (-math.sin(turn), 0.0, math.cos(turn))
        face = (-71.3, -17.4, -9.2)
        solid = tuner_solid(TunerPlace("tuner-4", face, axis, 9.7, 25.2, 16.6, 14.3, string_height=7.0))
        wanted = math.pi / 4 * (9.7**2 * 14.3 + (0.6 * 9.7) ** 2 * 22.0) + 25.2 * 16.6 * 12.0
        assert volume(solid) == pytest.approx(wanted, rel=1e-9)
        along = (math.cos(turn), 0.0, math.sin(turn))
        corners = np.array([v.toTuple() for v in solid.Vertices()]) - face
        up, out = corners @ axis, corners @ along
        assert (up.min(), up.max()) == pytest.approx((-14.3 - 12.0, 22.0), abs=1e-6)
        assert (out.min(), out.max()) == pytest.approx((-12.6, 12.6), abs=1e-6)
        assert (corners[:, 1].min(), corners[:, 1].max()) == pytest.approx((-8.3, 8.3), abs=1e-6)
        # the post is 5.82 thick, the hole's filling 9.7, both about the axis
        for high, radius in ((11.0, 2.91), (-7.0, 4.85)):
            at = [f + high * a + (radius + 0.05) * s for f, a, s in zip(face, axis, along, strict=True)]
            assert away(solid, (at[0], at[1], at[2])) == pytest.approx(0.05, abs=1e-6)


class TestBuilders:
    def test_a_cone_with_a_point_lies_along_its_axis(self) -> None:
        solid = turned((1.0, 2.0, 3.0), (0.0, 3.0, 4.0), [(2.0, 1.5), (7.0, 0.0)])
        assert volume(solid) == pytest.approx(math.pi * 1.5**2 * 5 / 3, rel=1e-9)
        assert away(solid, (1.0, 2.0 + 0.6 * 8.0, 3.0 + 0.8 * 8.0)) == pytest.approx(1.0, abs=1e-6)

    def test_no_length_is_an_error_with_a_name(self) -> None:
        with pytest.raises(KernelError, match="post"):
            rod_of((1.0, 2.0, 3.0), (1.0, 2.0, 3.0), 4.0, "post")


class TestParts:
    def test_names_order_and_colours_of_a_preset(self) -> None:
        layout = neckmodel.lay_out(neckmodel.read(PRESET))
        parts = hardware_parts(layout)
        screws = [f"screw-{k}" for k in range(1, 5)]
        tuners = [f"tuner-{k}" for k in range(1, 7)]
        assert [part.name for part in parts] == ["nut", "rod", "adjusting-key", *screws, *tuners]
        assert {part.kind for part in parts} == {"hardware"}
        assert all(part.colour == COLOURS[part.name.rstrip("-0123456789")] for part in parts)

    def test_the_rod_lies_as_deep_as_the_design_says(self) -> None:
        layout = neckmodel.lay_out(neckmodel.read(PRESET))
        (solid,) = [part.solid for part in hardware_parts(layout) if part.name == "rod"]
        # 0.1 deeper than flush; 9.2 high; 420 long from 7.0
        assert bounds(solid)[4:] == pytest.approx((-9.3, -0.1), abs=1e-5)
        assert bounds(solid)[:2] == pytest.approx((7.0, 427.0), abs=1e-5)

    def test_no_envelope_in_the_channel_overlaps_another(self) -> None:
        layout = neckmodel.lay_out(neckmodel.read(PRESET))
        parts = {part.name: part.solid for part in hardware_parts(layout)}
        assert parts["adjusting-key"].distance(parts["rod"]) == pytest.approx(0.01, abs=1e-6)

    def test_colours_are_srgb(self) -> None:
        assert all(0.0 <= tone <= 1.0 for colour in COLOURS.values() for tone in colour)
        assert colour_of("bar-2") == COLOURS["bar"]
        assert colour_of("adjusting-key") == COLOURS["adjusting-key"]
        with pytest.raises(KeyError):
            colour_of("spanner-1")
