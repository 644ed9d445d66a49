"""STEP: what is written comes back, and what is wrong is found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import cadquery as cq
import pytest
import writer_samples as samples
from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert
from OCP.TopoDS import TopoDS_Shell, TopoDS_Solid

from neckmodel.errors import ExportError
from neckmodel.solids.kernel.gate import volume
from neckmodel.writers.atomic import produce
from neckmodel.writers.base import Form, Job
from neckmodel.writers.setups import LAYOUT
from neckmodel.writers.step import check, kernel, part21
from neckmodel.writers.step.kernel import Body, Heading
from neckmodel.writers.step.step import StepWriter
from neckmodel.writers.step.terms import SCHEMAS

HEADING = Heading("a title", ("what it is",), "neckmodel test")


@pytest.fixture(scope="module")
def bodies(job: Job) -> list[Body]:
    return [Body(part.name, part.solid, part.colour) for part in job.bodies.parts]


def written(path: Path, bodies: list[Body], schema: str = "AP214", unit: str = "mm") -> Path:
    kernel.write(path, bodies, HEADING, schema, unit)
    return path


def problems(path: Path, bodies: list[Body], schema: str = "AP214", unit: str = "mm") -> list[str]:
    return check.problems(path, bodies, LAYOUT, HEADING, schema, unit)


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("schema", SCHEMAS)
def test_the_assembly_comes_back(job: Job, tmp_path: Path, schema: str, unit: str) -> None:
    chosen = replace(job, form=Form(schema, unit))
    path = produce(StepWriter(), chosen, StepWriter().targets(chosen)[-1], tmp_path)
    roots, bodies = kernel.read(path)
    assert roots == [f"{samples.NAME} assembly"]
    assert [body.name for body in bodies] == ["blank", "neck", "rod"]
    # closed forms; the kernel integrates planes and cylinders to its last digits
    assert volume(bodies[0].shape) == pytest.approx(samples.blank_volume(), rel=1e-9)
    assert volume(bodies[2].shape) == pytest.approx(samples.rod_volume(), rel=1e-9)
    assert bodies[1].colour == pytest.approx((0.8, 0.5, 0.25), abs=1e-6)
    assert {face.geomType() for face in bodies[1].shape.Faces()} == {"PLANE", "BSPLINE"}


@pytest.mark.parametrize(("unit", "scale"), [("mm", 1.0), ("inch", 25.4)])
def test_the_numbers_in_the_text_are_the_sizes_without_any_kernel(
    job: Job, tmp_path: Path, unit: str, scale: float
) -> None:
    chosen = replace(job, form=Form(unit=unit))
    path = produce(StepWriter(), chosen, StepWriter().targets(chosen)[0], tmp_path)
    file = part21.parse(path.read_text(encoding="ascii"))
    assert file.mm_per_unit() == scale
    assert file.vertex_box() == pytest.approx(samples.BLANK_BOX, abs=1e-9)
    assert file.counts()["MANIFOLD_SOLID_BREP"] == 1
    # six of the box, floor and two sides of the pocket, floor of the hole; two half-round ends, the hole's wall
    assert file.counts()["PLANE"] == 10
    assert file.counts()["CYLINDRICAL_SURFACE"] == 3
    assert file.counts()["B_SPLINE_SURFACE_WITH_KNOTS"] == 0


def test_the_header_says_what_it_is_and_nothing_of_the_day(job: Job, tmp_path: Path) -> None:
    targets = {target.file: target for target in StepWriter().targets(job)}
    path = produce(StepWriter(), job, targets["O-Grosse-neck.step"], tmp_path)
    header = part21.parse(path.read_text(encoding="ascii")).header
    says = " ".join(header["FILE_DESCRIPTION"])
    assert header["FILE_NAME"][:2] == (f"{samples.NAME} neck, glue-up", "2000-01-01T00:00:00")
    assert "z = 0 at the glue plane" in says
    assert "Up is +z: the glue plane's side looks up" in says
    assert "Unit: mm." in says
    assert max(map(len, header["FILE_DESCRIPTION"])) <= 256  # ISO 10303-21, FILE_DESCRIPTION: string(256)


def test_a_failed_design_says_so_in_header_and_assembly(failed_job: Job, tmp_path: Path) -> None:
    path = produce(StepWriter(), failed_job, StepWriter().targets(failed_job)[-1], tmp_path)
    header = part21.parse(path.read_text(encoding="ascii")).header
    assert header["FILE_DESCRIPTION"][0] == "EXPORTED DESPITE FAILED CHECKS: wall/run"
    assert kernel.read(path)[0] == [f"{samples.NAME} assembly - EXPORTED DESPITE FAILED CHECKS"]


@pytest.mark.parametrize(
    ("given", "says"),
    [({"schema": "AP210"}, "AP214, AP242, AP203"), ({"unit": "in"}, "mm, inch"), ({"setup": "x"}, "glue-up-bed")],
)
def test_an_unknown_choice_names_the_known_ones(job: Job, given: dict[str, str], says: str) -> None:
    with pytest.raises(ExportError, match=says):
        StepWriter().targets(replace(job, form=Form(**given)))


def test_settings_of_the_kernel_are_put_back(tmp_path: Path, bodies: list[Body]) -> None:
    before = kernel.Interface_Static.CVal_s("write.step.unit")
    written(tmp_path / "inch.step", bodies[2:], unit="inch")
    assert kernel.Interface_Static.CVal_s("write.step.unit") == before
    with pytest.raises(ExportError, match="refused"), kernel.statics(write__step__unit="FURLONG"):
        pass


def test_a_location_on_a_shape_is_baked_in(tmp_path: Path, bodies: list[Body]) -> None:
    moved = bodies[2].shape.moved(cq.Location((10, -3, 2), (0, 0, 1), 90))
    here = Body("rod", kernel.placed(moved, LAYOUT), None)
    assert here.shape.wrapped.Location().IsIdentity()
    assert problems(written(tmp_path / "moved.step", [here]), [Body("rod", moved, None)]) == []
    assert "corners off by 4.0000 mm" in problems(tmp_path / "moved.step", [Body("rod", moved.moved((4, 0, 0)), None)])


TEXT_DAMAGE: list[tuple[Callable[[str], str], str]] = [
    (lambda text: text.replace("'rod'", "'rud'"), "products are"),
    (lambda text: text.replace(".MILLI.,.METRE.", ".CENTI.,.METRE."), "unit is 10.0 mm"),
    (lambda text: text.replace("AUTOMOTIVE_DESIGN {", "AUTOMATIVE_DESIGN {"), "schema is"),
    (lambda text: text.replace("what it is", "what it was"), "header says"),
    (lambda text: text.replace("(-31.,", "(-31.5,"), "corners off by 0.5000 mm"),
    (lambda text: text.replace("CARTESIAN_POINT", "CARTESIAN_PO\xe4NT", 1), "'ascii' codec|bad character"),
    (lambda text: text.replace("MANIFOLD_SOLID_BREP('',#", "MANIFOLD_SOLID_BREP('',#9999", 1), "which is not there"),
    (lambda text: text.replace("3.175", "3.1", 1), "volume|bounds|valid|edges"),
]


@pytest.mark.parametrize(("damage", "says"), TEXT_DAMAGE)
def test_damage_in_the_text_is_found(
    tmp_path: Path, bodies: list[Body], damage: Callable[[str], str], says: str
) -> None:
    path = written(tmp_path / "damaged.step", bodies)
    text = path.read_text(encoding="ascii")
    assert problems(path, bodies) == []
    assert damage(text) != text
    path.write_text(damage(text), encoding="utf-8")
    found = " | ".join(problems(path, bodies))
    assert any(word in found for word in says.split("|")), found


def nurbs(shape: cq.Shape) -> cq.Shape:
    return cq.Shape.cast(BRepBuilderAPI_NurbsConvert(shape.wrapped, True).Shape())


def with_a_hole_in_its_skin(shape: cq.Shape) -> cq.Shape:
    return cq.Solid.makeSolid(cq.Shell.makeShell(shape.Faces()[1:]))


SHAPE_DAMAGE: list[tuple[Callable[[cq.Shape], cq.Shape], str]] = [
    (lambda shape: shape.scale(25.4), "blank: volume"),
    (lambda shape: shape.moved((0, 0, 0.002)), "blank: bounds off by 0.0020 mm"),
    (lambda shape: shape.moved((0, 0, 0.02)), "blank: centre of volume off by 0.0200 mm"),
    (lambda shape: shape.mirror("XZ"), "blank: bounds off by 6.0000 mm"),
    (nurbs, "blank: faces"),
    (with_a_hole_in_its_skin, "blank: 0 solids"),
    (lambda shape: cq.Compound.makeCompound([shape, cq.Solid.makeBox(1, 2, 3)]), "blank: 2 solids"),
]


@pytest.mark.parametrize(("damage", "says"), SHAPE_DAMAGE)
def test_a_wrong_solid_is_found(
    tmp_path: Path, bodies: list[Body], damage: Callable[[cq.Shape], cq.Shape], says: str
) -> None:
    blank = replace(bodies[0], shape=damage(bodies[0].shape))
    path = written(tmp_path / "wrong.step", [blank, *bodies[1:]])
    assert any(problem.startswith(says) for problem in problems(path, bodies)), problems(path, bodies)


def test_a_solid_that_is_not_valid_is_found_though_the_reader_mends_it(tmp_path: Path, bodies: list[Body]) -> None:
    builder, shell, solid = BRep_Builder(), TopoDS_Shell(), TopoDS_Solid()
    builder.MakeShell(shell)
    for face in bodies[0].shape.Faces():
        builder.Add(shell, face.wrapped.Reversed() if face.Center().z < -20 else face.wrapped)
    builder.MakeSolid(solid)
    builder.Add(solid, shell)
    twisted = [replace(bodies[0], shape=cq.Solid(solid))]
    path = written(tmp_path / "twisted.step", twisted)
    assert kernel.read(path)[1][0].shape.isValid()
    assert "blank: not valid" in problems(path, twisted)


def test_a_missing_part_a_wrong_order_and_a_wrong_colour_are_found(tmp_path: Path, bodies: list[Body]) -> None:
    path = tmp_path / "set.step"
    assert "parts are ['blank', 'neck']" in problems(written(path, bodies[:2]), bodies)
    assert "parts are ['rod', 'neck', 'blank']" in problems(written(path, bodies[::-1]), bodies)
    grey = [replace(bodies[0], colour=(0.5, 0.5, 0.5)), *bodies[1:]]
    assert any("blank: colour" in problem for problem in problems(written(path, grey), bodies))
