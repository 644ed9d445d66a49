"""How parts lie in the files for CAM: by hand-computed places, re-read by the kernel."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import writer_samples as samples
from OCP.BRepAdaptor import BRepAdaptor_Surface

from neckmodel.solids.kernel.box import box
from neckmodel.solids.kernel.gate import volume
from neckmodel.writers.atomic import produce
from neckmodel.writers.base import Form, Job
from neckmodel.writers.setups import SETUPS, placement
from neckmodel.writers.step import kernel
from neckmodel.writers.step.step import StepWriter

UPRIGHT = 1 - 1e-9  # cosine: 0.003 degrees
DEPTH, POCKET, HOLE = 21.5, 9.5, 13.0
# setup: (z of the box, y of the box, y of the hole, heights of the planes that look up)
EXPECTED = {
    "glue-up": ((-DEPTH, 0.0), (-17.0, 23.0), -8.0, (-HOLE, -POCKET, 0.0)),
    "glue-up-bed": ((0.0, DEPTH), (-17.0, 23.0), -8.0, (DEPTH - HOLE, DEPTH - POCKET, DEPTH)),
    "back-up": ((-DEPTH, 0.0), (-23.0, 17.0), 8.0, (0.0,)),
    "back-up-bed": ((0.0, DEPTH), (-23.0, 17.0), 8.0, (DEPTH,)),
}


def test_every_setup_is_expected_here() -> None:
    assert set(EXPECTED) == set(SETUPS)


@pytest.mark.parametrize("setup", SETUPS)
def test_the_blank_lies_as_the_setup_says(job: Job, tmp_path: Path, setup: str) -> None:
    chosen = replace(job, form=Form(setup=setup))
    target = StepWriter().targets(chosen)[0]
    path = produce(StepWriter(), chosen, target, tmp_path)
    _, [body] = kernel.read(path)
    heights, sides, hole_y, floors = EXPECTED[setup]
    assert box(body.shape) == pytest.approx((-31.0, sides[0], heights[0], 118.0, sides[1], heights[1]), abs=1e-6)
    assert volume(body.shape) == pytest.approx(samples.blank_volume(), rel=1e-9)
    faces = body.shape.Faces()
    upward = [face for face in faces if face.geomType() == "PLANE" and face.normalAt().z > UPRIGHT]
    assert sorted(face.Center().z for face in upward) == pytest.approx(floors, abs=1e-4)
    assert Counter(face.geomType() for face in faces) == {"CYLINDER": 3, "PLANE": 10}  # none has become free-form
    # turned, not mirrored: the hole keeps its x while its y changes sign together with z
    axes = [BRepAdaptor_Surface(face.wrapped).Cylinder() for face in body.shape.faces("%CYLINDER").Faces()]
    hole = next(axis for axis in axes if axis.Radius() == pytest.approx(samples.HOLE["radius"]))
    assert (hole.Location().X(), hole.Location().Y()) == pytest.approx((samples.HOLE["x"], hole_y), abs=1e-9)
    text = path.read_text()
    assert f"Setup {setup}: " in text
    assert ("y has changed sign" in text) is setup.startswith("back-up")


@pytest.mark.parametrize(
    ("name", "lift"), [("glue-up", 0.0), ("glue-up-bed", 21.5), ("back-up", -21.5), ("back-up-bed", 0.0)]
)
def test_a_placement_is_a_rotation_and_a_lift(name: str, lift: float) -> None:
    place = placement(SETUPS[name], samples.BLANK_BOX)
    origin = np.array(place.point((0, 0, 0)))
    axes = np.array([place.point((1, 0, 0)), place.point((0, 1, 0)), place.point((0, 0, 1))]) - origin
    assert tuple(origin) == (0, 0, lift)
    assert np.linalg.det(axes) == pytest.approx(1)  # a mirror has -1
    low_y, low_z = (-23 if place.setup.turned else -17), (0 if name.endswith("bed") else -21.5)
    assert place.bounds(samples.BLANK_BOX)[:3] == (-31, low_y, low_z)


def test_heights_stay_round_numbers() -> None:
    noisy = (-31.0, -17.0, -21.500000013, 118.0, 23.0, -2e-9)
    assert placement(SETUPS["glue-up-bed"], noisy).lift == 21.5
    assert str(placement(SETUPS["back-up-bed"], noisy).lift) == "0.0"


def test_the_assembly_stays_in_the_frame_of_the_layout(job: Job, tmp_path: Path) -> None:
    chosen = replace(job, form=Form(setup="back-up-bed"))
    path = produce(StepWriter(), chosen, StepWriter().targets(chosen)[-1], tmp_path)
    _, bodies = kernel.read(path)
    assert box(bodies[0].shape) == pytest.approx(samples.BLANK_BOX, abs=1e-6)
    assert "Every part where the layout has it." in path.read_text()


def test_where_zero_is_and_what_looks_up_is_said() -> None:
    said = {name: placement(setup, samples.BLANK_BOX) for name, setup in SETUPS.items()}
    assert said["glue-up"].origin.endswith("z = 0 at the glue plane")
    assert said["glue-up-bed"].origin.endswith("the part's lowest point; the glue plane is at z = 21.5000 mm")
    assert said["back-up"].origin.endswith("the part's highest point; the glue plane is at z = -21.5000 mm")
    assert said["back-up"].up == "the back looks up; turned over about x, so y has changed sign"
