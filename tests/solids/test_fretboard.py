"""The fretboard: crown and fret slots held against closed forms of the circle, measured on the solid itself."""

from __future__ import annotations

import math
from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from scipy.integrate import dblquad

from neckmodel.errors import KernelError
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.fretboard.slots import FretSlot, slot_numbers
from neckmodel.solids.fretboard import fretboard_solid, volume_of
from neckmodel.solids.kernel.gate import volume

FLAT = math.inf


def sagitta(radius: float, half_chord: float) -> float:
    return 0.0 if math.isinf(radius) else radius - math.sqrt(radius**2 - half_chord**2)


def segment_area(radius: float, height: float) -> float:
    """Area of a circular segment by its height (any table of areas)."""
    return radius**2 * math.acos((radius - height) / radius) - (radius - height) * math.sqrt(
        2 * radius * height - height**2
    )


def board(
    xs: tuple[float, ...] = (31.7, 58.2, 301.3, 403.9),
    widths: tuple[float, float] = (42.6, 57.3),
    radii: tuple[float, float] = (280.0, 360.0),
    length: float = 437.1,
    thickness: float = 6.2,
    slot: tuple[float, float] = (0.58, 2.3),
    floor: str = "curved",
) -> Fretboard:
    slope = (widths[1] - widths[0]) / 2 / length
    bare = Fretboard(0.0, length, widths[0] / 2, slope, thickness, *radii, *slot, floor, (), 3.6, 3.6)
    slots = tuple(
        FretSlot(k + 1, x, *slot_numbers(thickness, slot[1], sagitta(bare.radius(x), bare.half_width(x)), floor))
        for k, x in enumerate(xs)
    )
    return replace(bare, slots=slots)


def frets(scale: float, count: int) -> tuple[float, ...]:
    return tuple(scale * (1 - 2 ** (-n / 12)) for n in range(1, count + 1))


def heights(solid: cq.Solid, points: np.ndarray) -> np.ndarray:
    """z at which an upright line through each point (x, y) leaves the solid."""
    finder = IntCurvesFace_ShapeIntersector()
    finder.Load(solid.wrapped, 1e-9)
    found = []
    for x, y in points:
        finder.Perform(gp_Lin(gp_Pnt(float(x), float(y), -10.0), gp_Dir(0.0, 0.0, 1.0)), 0.0, 100.0)
        found.append(max(finder.Pnt(k + 1).Z() for k in range(finder.NbPnt())))
    return np.array(found)


def on_lands(of: Fretboard, count: int, seed: int) -> np.ndarray:
    """(n, 2) random points of the plan, none in a fret slot."""
    rng = np.random.default_rng(seed)
    x = rng.uniform(of.x_start, of.x_end, count)
    y = rng.uniform(-0.999, 0.999, count) * (of.half_nut + of.slope * x)
    free = [all(abs(a - slot.x) > of.slot_width / 2 + 1e-6 for slot in of.slots) for a in x]
    return np.column_stack([x, y])[free]


class TestCrown:
    @pytest.mark.parametrize("radii", [(280.0, 360.0), (500.0, 180.0), (233.0, 233.0), (FLAT, FLAT)])
    @pytest.mark.parametrize("floor", ["curved", "flat"])
    def test_the_surface_is_the_circle_of_the_radius_at_x(self, radii: tuple[float, float], floor: str) -> None:
        made = board(radii=radii, floor=floor)
        points = on_lands(made, 250, 4)
        wanted = [
            6.2 - (0.0 if math.isinf(radii[0]) else sagitta(radii[0] + (radii[1] - radii[0]) * x / 437.1, y))
            for x, y in points
        ]
        assert heights(fretboard_solid(made), points) == pytest.approx(wanted, abs=1e-6)

    def test_no_land_is_too_long(self) -> None:
        made = board(xs=(), radii=(180.0, 500.0), widths=(90.0, 95.0), length=600.0, thickness=9.0)
        points = on_lands(made, 250, 5)
        wanted = [made.top(x, y) for x, y in points]
        assert heights(fretboard_solid(made), points) == pytest.approx(wanted, abs=1e-4)

    def test_a_flat_fretboard_has_plane_faces_only(self) -> None:
        for floor in ("curved", "flat"):
            made = fretboard_solid(board(radii=(FLAT, FLAT), floor=floor))
            assert {face.geomType() for face in made.Faces()} == {"PLANE"}

    def test_a_constant_radius_gives_real_cylinders(self) -> None:
        kinds = [face.geomType() for face in fretboard_solid(board(radii=(233.0, 233.0))).Faces()]
        assert kinds.count("CYLINDER") == 5 + 4  # lands and floors
        assert set(kinds) == {"CYLINDER", "PLANE"}

    def test_the_box_round_it(self) -> None:
        box = fretboard_solid(board()).BoundingBox()
        assert (box.xmin, box.xmax) == pytest.approx((0.0, 437.1), abs=1e-5)
        assert (box.ymin, box.ymax) == pytest.approx((-28.65, 28.65), abs=1e-5)
        assert (box.zmin, box.zmax) == pytest.approx((0.0, 6.2), abs=1e-5)

    def test_it_may_begin_before_the_nut(self) -> None:
        made = replace(board(xs=(0.1, 31.7)), x_start=-7.4)
        solid = fretboard_solid(made)
        half = 21.3 - 7.4 * (57.3 - 42.6) / 2 / 437.1
        ends = [v for v in solid.Vertices() if abs(v.X + 7.4) < 1e-9]
        assert sorted(v.Y for v in ends) == pytest.approx([-half, -half, half, half], abs=1e-9)
        points = np.array([(-7.3, -20.1), (-4.0, 16.2), (-0.5, 20.9), (0.5, 20.9), (7.7, -14.4)])
        assert heights(solid, points) == pytest.approx([made.top(x, y) for x, y in points], abs=1e-8)
        assert heights(solid, np.array([(-0.1, 20.0)]))[0] == pytest.approx(made.top(-0.1, 20.0) - 2.3, abs=1e-8)


class TestVolume:
    def test_an_untapered_cylinder_without_slots(self) -> None:
        made = board(xs=(), widths=(51.0, 51.0), radii=(240.0, 240.0))
        under_crown = segment_area(240.0, sagitta(240.0, 25.5))
        area = 51.0 * (6.2 - sagitta(240.0, 25.5)) + under_crown
        assert volume(fretboard_solid(made)) == pytest.approx(area * 437.1, rel=1e-10)

    def test_a_cone_by_double_quadrature(self) -> None:
        made = board(xs=())
        whole, _ = dblquad(
            lambda y, x: 6.2 - sagitta(280 + 80 * x / 437.1, y),
            0.0,
            437.1,
            lambda x: -(21.3 + 7.35 * x / 437.1),
            lambda x: 21.3 + 7.35 * x / 437.1,
            epsabs=1e-7,
        )
        assert volume(fretboard_solid(made)) == pytest.approx(whole, rel=1e-9)

    @pytest.mark.parametrize("radii", [(280.0, 360.0), (233.0, 233.0), (FLAT, FLAT)])
    def test_curved_slots_take_width_times_depth_times_length(self, radii: tuple[float, float]) -> None:
        whole = volume(fretboard_solid(board(xs=(), radii=radii)))
        slotted = volume(fretboard_solid(board(radii=radii)))
        lengths = [42.6 + 14.7 * x / 437.1 for x in (31.7, 58.2, 301.3, 403.9)]
        assert whole - slotted == pytest.approx(0.58 * 2.3 * sum(lengths), rel=1e-6)

    def test_flat_slots_that_surface_take_a_circular_segment_each(self) -> None:
        """Radius 180, half width 21.3 and more: the crown falls 1.26 or more, farther than the slot is deep."""
        shape = {"radii": (180.0, 180.0), "floor": "flat", "slot": (0.58, 1.1)}
        whole = volume(fretboard_solid(board(xs=(), **shape)))
        slotted = volume(fretboard_solid(board(**shape)))
        assert whole - slotted == pytest.approx(4 * 0.58 * segment_area(180.0, 1.1), rel=1e-6)

    def test_flat_slots_that_reach_the_edges(self) -> None:
        """Of the segment under the crown, the part within the half width."""
        shape = {"radii": (300.0, 300.0), "floor": "flat", "widths": (50.0, 50.0)}
        whole = volume(fretboard_solid(board(xs=(), **shape)))
        slotted = volume(fretboard_solid(board(**shape)))
        area = segment_area(300.0, sagitta(300.0, 25.0)) + 50.0 * (2.3 - sagitta(300.0, 25.0))
        assert whole - slotted == pytest.approx(4 * 0.58 * area, rel=1e-6)


class TestSlots:
    @pytest.mark.parametrize("radii", [(280.0, 360.0), (233.0, 233.0)])
    def test_a_curved_floor_is_as_deep_everywhere(self, radii: tuple[float, float]) -> None:
        made = board(radii=radii)
        solid = fretboard_solid(made)
        for slot in made.slots:
            y = np.linspace(-0.99, 0.97, 9) * made.half_width(slot.x - 0.28)
            points = np.column_stack([slot.x + np.linspace(-0.28, 0.27, 9), y])
            floor = heights(solid, points)
            assert floor == pytest.approx([made.top(x, y) - 2.3 for x, y in points], abs=1e-6)

    @pytest.mark.parametrize("radii", [(280.0, 360.0), (180.0, 180.0), (FLAT, FLAT)])
    @pytest.mark.parametrize("depth", [1.1, 2.3])
    def test_a_flat_floor_is_level_and_ends_where_the_crown_meets_it(
        self, radii: tuple[float, float], depth: float
    ) -> None:
        made = board(radii=radii, floor="flat", slot=(0.58, depth))
        solid = fretboard_solid(made)
        for slot in made.slots:
            points = np.column_stack(
                [np.full(41, slot.x + 0.1), np.linspace(-0.995, 0.995, 41) * made.half_width(slot.x)]
            )
            wanted = [min(6.2 - depth, made.top(x, y)) for x, y in points]
            assert heights(solid, points) == pytest.approx(wanted, abs=1e-6)

    @pytest.mark.parametrize("floor", ["curved", "flat"])
    def test_the_least_wood_below_and_the_depth_at_the_edge_are_the_layouts(self, floor: str) -> None:
        made = board(floor=floor)
        corners = np.array([v.toTuple() for v in fretboard_solid(made).Vertices()])
        for slot in made.slots:
            here = corners[np.abs(np.abs(corners[:, 0] - slot.x) - 0.29) < 1e-9]
            assert len(here) == 8
            floor_z, top_z = np.sort(here[:, 2])[:4], np.sort(here[:, 2])[4:]
            # the layout looks at the slot's middle; half its width on, the crown falls 0.29 x 0.003 mm farther at most
            assert floor_z.min() == pytest.approx(slot.wood_below, abs=1e-3)
            assert top_z.mean() - floor_z.mean() == pytest.approx(slot.seat_at_edge, abs=1e-5)

    def test_each_slot_is_open_at_both_edges(self) -> None:
        made = board()
        solid = fretboard_solid(made)
        for slot in made.slots:
            half = made.half_width(slot.x)
            for side in (-1, 1):
                edge = cq.Vector(slot.x, side * (half - 0.01), made.top(slot.x, half) - 1.0)
                beside = edge + cq.Vector(0.4, 0.0, 0.0)
                assert not solid.isInside(edge)
                assert solid.isInside(beside)

    def test_twenty_four_slots_take_no_cut(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Built face by face: 24 single cuts take ten times as long."""

        def cutting(*_: object) -> None:
            raise AssertionError("a plain slot was cut")

        monkeypatch.setattr("neckmodel.solids.fretboard.cut", cutting)
        solid = fretboard_solid(board(xs=frets(640.0, 24), length=490.0))
        assert len(solid.Faces()) == 25 + 24 + 2 * 24 + 5

    def test_both_sides_are_alike(self) -> None:
        solid = fretboard_solid(board())
        corners = {tuple(np.round(v.toTuple(), 6) + 0.0) for v in solid.Vertices()}
        assert corners == {(x, -y + 0.0, z) for x, y, z in corners}
        assert cq.Shape.centerOfMass(solid).y == pytest.approx(0.0, abs=1e-6)

    @pytest.mark.parametrize("radii", [(200.0, 250.0), (200.0, 200.0)])
    def test_slots_deeper_than_the_edge_part_it_there_and_no_farther(self, radii: tuple[float, float]) -> None:
        """A poor design, but a neck that can be sawn: it is for a check to fail it, with a number."""
        made = board(radii=radii, thickness=4.0, slot=(0.58, 2.9))
        solid = fretboard_solid(made)
        slot = made.slots[-1]
        radius, half = made.radius(slot.x), made.half_width(slot.x)
        ends = math.sqrt(1.1 * (2 * radius - 1.1))  # where the crown has fallen by the 1.1 left in the middle
        assert ends < half
        inside = [solid.isInside(cq.Vector(slot.x, ends + d, 0.005)) for d in (-1.0, 0.2)]
        assert inside == [True, False]


class TestRange:
    @pytest.mark.parametrize("seed", range(24))
    def test_any_fretboard_of_three_to_twelve_strings(self, seed: int) -> None:
        """The volume gate inside is the numpy integral at 1e-6; here the crown at random points as well."""
        rng = np.random.default_rng(seed)
        scale = rng.uniform(300.0, 900.0)
        xs = frets(scale, int(rng.integers(5, 25)))
        one = rng.uniform(180.0, 500.0)
        radii = ((one, one), (one, rng.uniform(180.0, 500.0)), (FLAT, FLAT))[seed % 3]
        nut = rng.uniform(25.0, 70.0)
        made = board(
            xs=xs,
            widths=(nut, min(95.0, nut * rng.uniform(1.0, 1.4))),
            radii=radii,
            length=xs[-1] + rng.uniform(3.0, 20.0),
            thickness=rng.uniform(6.5, 9.0),
            slot=(rng.uniform(0.45, 0.7), rng.uniform(1.0, 2.5)),
            floor=("curved", "flat")[seed // 3 % 2],
        )
        solid = fretboard_solid(made)
        points = on_lands(made, 40, seed)
        assert heights(solid, points) == pytest.approx([made.top(x, y) for x, y in points], abs=1e-4)
        assert volume(solid) == pytest.approx(volume_of(made, made.slots), rel=1e-7)

    @pytest.mark.parametrize("past", [0.0, 1e-7, -1e-7, 1e-6, -1e-5, 1e-5, 1e-4, -1e-4, 0.9e-3, 1.1e-3])
    @pytest.mark.parametrize("radii", [(230.0, 270.0), (250.0, 250.0)])
    def test_a_flat_floor_that_just_meets_the_edge(self, radii: tuple[float, float], past: float) -> None:
        bare = board(radii=radii)
        depth = sagitta(bare.radius(301.3), bare.half_width(301.3)) + past
        solid = fretboard_solid(board(radii=radii, floor="flat", slot=(0.58, depth)))
        assert heights(solid, np.array([(301.3, 3.0)]))[0] == pytest.approx(6.2 - depth, abs=1e-6)


class TestRefusals:
    @pytest.mark.parametrize(
        ("change", "says"),
        [
            ({"xs": (31.7, 32.2)}, "the slot of fret 2 runs into the slot of fret 1"),
            ({"xs": (0.2, 32.2)}, "the slot of fret 1 runs into the fretboard's start"),
            ({"xs": (31.7, 436.9)}, "the slot of fret 2 runs into the fretboard's end"),
            ({"slot": (0.58, 6.2)}, "the slot of fret 1 cuts through"),
            ({"radii": (21.5, 40.0)}, "no crown of this radius spans the width"),
            ({"radii": (60.0, 60.0)}, "the crown leaves no wood at the edge"),
            ({"radii": (FLAT, 300.0)}, "a radius cannot run from flat to round"),
        ],
    )
    def test_what_cannot_be_made(self, change: dict[str, object], says: str) -> None:
        with pytest.raises(KernelError, match=says):
            fretboard_solid(board(**change))  # type: ignore[arg-type]
