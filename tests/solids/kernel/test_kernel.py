"""The gate, the booleans and the builders, against closed forms of elementary geometry."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from pathlib import Path

import cadquery as cq
import pytest
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import PlanPath, Step, pocket, polygon
from neckmodel.solids.kernel.gate import common, cut, fuse, gate, guarded, volume
from neckmodel.solids.kernel.shapes import (
    bezier_edge,
    mirrored,
    path_edges,
    plane_face,
    polygon_face,
    sewn,
    sideways,
    sideways_over,
    upright,
    wire,
)


def box(x: float, y: float, z: float, at: tuple[float, float, float] = (0, 0, 0)) -> cq.Solid:
    return cq.Solid.makeBox(x, y, z, cq.Vector(*at))


class TestGate:
    def test_hands_back_the_one_solid(self) -> None:
        solid = gate(cq.Compound.makeCompound([box(2, 3, 5)]), "test", volume=30.0, rtol=1e-12)
        assert isinstance(solid, cq.Solid)
        assert volume(solid) == pytest.approx(30.0, rel=1e-12)

    def test_two_solids_are_refused_and_named(self) -> None:
        both = cq.Compound.makeCompound([box(1, 1, 1), box(1, 1, 1, (5, 0, 0))])
        with pytest.raises(KernelError, match="routing: 2 solids instead of one"):
            gate(both, "routing")

    def test_an_empty_result_is_refused(self) -> None:
        with pytest.raises(KernelError, match="cut: 0 solids"):
            cut(box(1, 1, 1), [box(3, 3, 3, (-1, -1, -1))])

    def test_nothing_is_refused(self) -> None:
        with pytest.raises(KernelError, match="no shape came back"):
            gate(None, "test")

    def test_a_wrong_volume_is_refused_with_both_numbers(self) -> None:
        with pytest.raises(KernelError, match=r"volume=30\.0.*, expected=30\.1"):
            gate(box(2, 3, 5), "test", volume=30.1, rtol=1e-3)

    def test_a_bow_tie_is_refused(self) -> None:
        with pytest.raises(KernelError):
            sideways([(0, 0), (10, 10), (10, 0), (0, 10)], -1, 1)

    def test_a_mirrored_solid_stays_the_right_way_out(self) -> None:
        side = sideways([(0, 0), (10, 0), (0, 7)], 2, 5)
        other = mirrored(side)
        assert volume(other) == pytest.approx(105.0, rel=1e-12)
        assert other.BoundingBox().ymin == pytest.approx(-5, abs=1e-6)
        assert other.BoundingBox().ymax == pytest.approx(-2, abs=1e-6)

    def test_an_error_without_a_text_gets_the_name_of_the_operation(self) -> None:
        with pytest.raises(KernelError, match=r"groove: Standard_DomainError \(width=0\)"), guarded("groove", width=0):
            BRepPrimAPI_MakeBox(1.0, 0.0, 1.0).Shape()


class TestBooleans:
    def test_overlapping_tools_are_cut_in_one_call(self) -> None:
        stock = box(100, 40, 20, (0, -20, -20))
        run = upright(pocket(10, 80, 6, round_to=True), -11, 2)
        block = upright(pocket(8, 22, 9), -13, 2)
        # 12 mm of the run lie inside the block's pocket
        expected = 80000 - (58 - 3) * 6 * 11 - math.pi * 9 / 2 * 11 - 14 * 9 * 13
        assert volume(cut(stock, [run, block], volume=expected, rtol=1e-9)) == pytest.approx(expected, rel=1e-9)

    def test_no_tools_leave_the_stock(self) -> None:
        assert volume(cut(box(2, 3, 5), [])) == pytest.approx(30)

    def test_round_ends_of_different_radius_that_touch_in_a_point_leave_no_sliver(self) -> None:
        stock = box(60, 30, 20, (-30, -15, -20))
        narrow, wide = (
            upright(pocket(-20, 5, 6, round_to=True), -9, 2),
            upright(pocket(-20, 5, 8, round_to=True), -5, 2),
        )
        region_n, region_w = 22 * 6 + math.pi * 9 / 2, 21 * 8 + math.pi * 16 / 2
        assert volume(cut(stock, [narrow, wide])) == pytest.approx(36000 - region_w * 5 - region_n * 4, rel=1e-7)

    def test_common_and_fuse(self) -> None:
        a, b = box(4, 4, 4), box(4, 4, 4, (1, 2, 3))
        assert volume(common(a, [b])) == pytest.approx(3 * 2 * 1, rel=1e-12)
        assert volume(fuse(a, [b])) == pytest.approx(128 - 6, rel=1e-12)


class TestShapes:
    def test_lines_become_planes_and_arcs_cylinders(self) -> None:
        solid = upright(pocket(0, 30, 8, round_from=True, round_to=True), -5, 1)
        assert sorted(face.geomType() for face in solid.Faces()) == ["CYLINDER"] * 2 + ["PLANE"] * 4
        assert volume(solid) == pytest.approx((22 * 8 + math.pi * 16) * 6, rel=1e-9)

    def test_a_pocket_as_long_as_it_is_wide_is_a_disc(self) -> None:
        assert volume(upright(pocket(0, 8, 8, True, True), 0, 3)) == pytest.approx(math.pi * 16 * 3, rel=1e-10)

    def test_a_parabolic_floor(self) -> None:
        # between z = -2 at both ends and -8 in the middle: the Bezier's middle pole lies at -14, mean depth 2 + 2/3 6
        floor = bezier_edge([(0, -2, -2), (45, -2, -14), (90, -2, -2)])
        solid = sideways_over(floor, -2, 2, 3)
        assert volume(solid) == pytest.approx((90 * 6 + 90 * 3) * 4, rel=1e-9)

    def test_a_face_with_a_hole(self) -> None:
        outline = wire(path_edges(polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), 0))
        for sense in ([(2, 2), (4, 2), (4, 5), (2, 5)], [(2, 2), (2, 5), (4, 5), (4, 2)]):
            face = plane_face(outline, [wire(path_edges(polygon(sense), 0))])
            assert cq.Face(face).Area() == pytest.approx(94, rel=1e-12)

    def test_an_open_outline_is_refused(self) -> None:
        path = PlanPath((0, 0), (Step((10, 0)), Step((10, 10))))
        with pytest.raises(KernelError, match="lid: the outline is not closed"):
            plane_face(wire(path_edges(path, 0)), operation="lid")

    def test_a_shell_with_a_face_missing_is_refused(self) -> None:
        faces = [polygon_face([(0, 0, 0), (1, 0, 0), (0, 1, 0)]), polygon_face([(0, 0, 0), (1, 0, 0), (0, 0, 1)])]
        with pytest.raises(KernelError, match="edges belong to one face only"):
            sewn(faces, "wedge")


class TestPaths:
    @pytest.mark.parametrize("sign", [1, -1])
    def test_area_of_arcs_more_and_less_than_half_a_circle(self, sign: int) -> None:
        # circle of radius 5 about 0, cut at x = 3: the smaller cap, and the rest
        cap = 25 * math.acos(3 / 5) - 3 * 4
        small = PlanPath((3, -4 * sign), (Step((3, 4 * sign), (5, 0)),))
        large = PlanPath((3, -4 * sign), (Step((3, 4 * sign), (-5, 0)),))
        assert small.area() == pytest.approx(sign * cap, rel=1e-12)
        assert large.area() == pytest.approx(-sign * (25 * math.pi - cap), rel=1e-12)

    def test_polyline_lies_on_the_arc(self) -> None:
        for through in ((5.0, 0.0), (-5.0, 0.0)):
            points = PlanPath((3, -4), (Step((3, 4), through),)).polyline()
            radii = [math.hypot(x, y) for x, y in points]
            assert radii == pytest.approx([5] * len(radii), rel=1e-12)
            assert min(math.dist(p, through) for p in points) < 0.3


class TestLoading:
    def run(self, tmp_path: Path, fake: str) -> subprocess.CompletedProcess[str]:
        (tmp_path / "cadquery.py").write_text(fake)
        code = (
            "from neckmodel.errors import MissingLibraryError\n"
            "try: from neckmodel.solids.kernel.load import load_cadquery; load_cadquery()\n"
            "except MissingLibraryError as error: print(error)\n"
        )
        root = str(Path(__file__).parents[3])
        env = {**os.environ, "PYTHONPATH": os.pathsep.join([str(tmp_path), root])}
        return subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=False)

    def test_a_missing_system_library_names_its_package(self, tmp_path: Path) -> None:
        text = "libGL.so.1: cannot open shared object file: No such file or directory"
        run = self.run(tmp_path, f"raise ImportError({text!r}, name='OCP')")
        assert run.stdout == (
            "the CAD kernel needs the system library libGL.so.1, which this machine lacks; "
            "Debian/Ubuntu: sudo apt-get install libgl1\n"
        )

    def test_a_broken_wheel_names_the_repair(self, tmp_path: Path) -> None:
        run = self.run(tmp_path, "raise ImportError('cannot import name X', name='OCP.gp')")
        assert "pip install --force-reinstall cadquery cadquery-ocp vtk" in run.stdout
        assert run.stdout.count("\n") == 1

    def test_another_import_error_is_not_dressed_up(self, tmp_path: Path) -> None:
        run = self.run(tmp_path, "import a_module_nobody_has")
        assert run.returncode == 1
        assert "ModuleNotFoundError: No module named 'a_module_nobody_has'" in run.stderr

    def test_the_placeholder_is_gone_after_the_import(self) -> None:
        code = (
            "import sys; from neckmodel.solids.kernel.load import load_cadquery; load_cadquery()\n"
            "assert 'vtk' not in sys.modules; import vtk; assert vtk.vtkSphereSource"
        )
        env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}
        subprocess.run([sys.executable, "-c", code], env=env, check=True)


def test_a_chip_that_falls_off_is_left_out_only_where_that_is_said():
    """A slot across a bar 100 long, 0.5 from its end: 0.5 % of it falls off."""
    bar, slot = cq.Solid.makeBox(100, 10, 10), cq.Solid.makeBox(1, 20, 20, cq.Vector(0.5, -5, -5))
    with pytest.raises(KernelError, match="2 solids instead of one"):
        cut(bar, [slot], "slotting")
    assert volume(cut(bar, [slot], "slotting", chips=0.01)) == pytest.approx(98.5 * 100)
    with pytest.raises(KernelError, match="2 solids instead of one"):
        cut(bar, [slot], "slotting", chips=0.004)
