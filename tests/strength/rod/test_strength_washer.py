"""What a compression rod presses on: by hand, against a geometry library, and what the check says of it."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strength_samples import findings, laid_out

from neckmodel.design import changed, read_text
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.strength.bending.stress import spare_of_end_grain
from neckmodel.strength.estimate import estimate
from neckmodel.strength.rod.bearing import bearing_faces, box, disc, wood_behind


# --- what it presses on ----------------------------------------------------------------------------------------------
def test_washer_round_its_rod_by_hand() -> None:
    """1500 N on a 10 mm washer with a 5 mm hole: 58.905 mm2 and 25.5 MPa; maple's 54.0 x 0.6 bears that 1.27 times."""
    ring = wood_behind(10.0, lambda y: disc(y, 10.0, 6.0), lambda y: disc(y, 5.0, 6.0))
    assert ring == pytest.approx(math.pi / 4 * (10**2 - 5**2), rel=1e-4)
    assert spare_of_end_grain(1500 / ring, 54.0) == pytest.approx(54 * 0.6 / 25.465, rel=1e-4)


def test_a_face_above_the_glue_plane_presses_on_nothing_there() -> None:
    """A box 8 wide from 5 below to 3 above has 40 mm2; a channel 4 wide and 2 deep takes 8 of it."""
    assert wood_behind(8.0, lambda y: box(y, 8.0, -5.0, 3.0)) == pytest.approx(40.0)
    cut = wood_behind(8.0, lambda y: box(y, 8.0, -5.0, 3.0), lambda y: box(y, 4.0, -2.0, 0.0))
    assert cut == pytest.approx(32.0)


def test_anchor_of_a_preset_by_hand() -> None:
    """wheatear's anchor, 10 x 8: its run there is 5.2 wide, 9.1011 deep, and its strip comes down to 3.9495."""
    anchor = next(face for face in bearing_faces(laid_out("wheatear")) if face.name == "anchor")
    assert anchor.area == pytest.approx(10 * 8 - 5.2 * (9.1011 - 3.9495), abs=0.02)
    assert anchor.x == pytest.approx(352.0)


def test_washer_of_a_preset_against_a_geometry_library() -> None:
    """shapely: the washer less its hole and the run under the strip, as polygons."""
    from shapely import Point
    from shapely import box as rectangle

    layout = laid_out("wheatear")
    assert layout.rod is not None
    washer, strip = layout.rod.washer, layout.rod.strip
    assert washer is not None
    assert strip is not None
    run = next(step for step in layout.steps if step.name == "run")
    middle = Point(0.0, -layout.rod.axis_at(washer.x_end))
    opening = rectangle(-2.6, -run.depth_at(washer.x_end), 2.6, -strip.underside.at(washer.x_end))
    ring = middle.buffer(5.0, quad_segs=400).difference(middle.buffer(washer.hole / 2, quad_segs=400))
    assert bearing_faces(layout)[0].area == pytest.approx(ring.difference(opening).area, rel=5e-4)


def test_at_the_heel_the_faces_look_the_other_way() -> None:
    flipped = laid_out("wheatear", "rod.adjuster_at=heel", "rod_place.from_nut=8", "rod_place.past_joint=-20")
    assert flipped.rod is not None
    assert flipped.rod.washer is not None
    washer, anchor = bearing_faces(flipped)
    assert washer.x == pytest.approx(flipped.rod.washer.x_start)
    assert anchor.x == pytest.approx(8 + 12)
    found = estimate(flipped).rod
    assert found is not None
    assert found.likely.need > 0


# --- what is said of it ----------------------------------------------------------------------------------------------
def test_findings_of_a_preset() -> None:
    found = findings(laid_out("wheatear"))
    assert set(found) >= {"strength/relief", "strength/rod", "strength/section", "strength/washer"}
    rod, washer = found["strength/rod"], found["strength/washer"]
    assert "cannot add any" in rod.says
    assert rod.more["reach_adding"] == 0.0
    assert washer.verdict == "warn"
    assert washer.measured is not None
    assert washer.worst_case is not None
    assert washer.worst_case < 1.0 < washer.measured
    assert washer.measured == pytest.approx(46.7 * 0.6 * washer.more["washer_area"] / rod.more["force"], rel=1e-3)
    assert washer.worst_case == pytest.approx(
        46.7 * 0.6 * 0.82 * washer.more["washer_area"] / rod.more["force_high"], rel=1e-3
    )
    for finding in (rod, washer):
        assert "an estimate" in finding.says
        assert "Wood Handbook" in finding.basis


def test_a_small_washer_fails_and_its_remedy_passes() -> None:
    layout = laid_out("wheatear", "rod.washer.diameter=8", "rod.anchor.width=7")
    found = findings(layout)["strength/washer"]
    assert found.verdict == "fail"
    assert found.remedy is not None
    assert set(found.remedy.set) == {"rod.washer.diameter", "rod.anchor.width"}
    mended = findings(lay_out(changed(layout.design, found.remedy.set)))["strength/washer"]
    assert mended.verdict == "pass"
    assert mended.worst_case is not None
    assert mended.worst_case >= 1.0  # the worst case too


def test_an_anchor_no_wider_than_its_run_holds_nothing() -> None:
    """Without a strip the run is open to the glue plane: there is no wood behind an anchor 5 x 5 in a run of 5.2."""
    text = laid_out("wheatear").design.source.text
    bare = text.replace('cover_strip = {thickness = 7.5, wood = "maple"}\n', "")
    assert bare != text
    found = findings(lay_out(read_text(bare, "bare", ("rod.anchor.width=5", "rod.anchor.height=5"))))["strength/washer"]
    assert (found.verdict, found.measured) == ("fail", 0.0)
    assert found.says.startswith("no wood lies behind the anchor")
    assert "anchor_area" not in found.more
    assert found.remedy is not None
    over = {"rod.anchor.height": 5.0, **found.remedy.set}
    mended = lay_out(read_text(bare, "bare", over))
    assert findings(mended)["strength/washer"].verdict != "fail"


def test_without_washer_or_anchor_the_rest_is_told() -> None:
    """The adjuster itself presses where there is no washer; no anchor is stated, so nothing is told of one."""
    text = laid_out("wheatear").design.source.text
    bare = text.replace("washer = {diameter = 10.0, thickness = 1.5}\n", "")
    bare = bare.replace("anchor = {length = 12.0, width = 10.0, height = 8.0}\n", "")
    assert bare != text
    (face,) = bearing_faces(lay_out(read_text(bare)))
    assert (face.name, face.key, face.size) == ("adjuster", "rod.adjuster.diameter", 8.0)
    found = findings(lay_out(read_text(bare)))["strength/washer"]
    assert "the adjuster presses its end grain" in found.says


@settings(max_examples=30)
@given(
    depths=st.tuples(*[st.integers(20, 120)] * 3),
    sizes=st.tuples(st.integers(25, 70), st.integers(60, 160), st.integers(30, 140)),
    wanted=st.integers(0, 60),
    heel=st.booleans(),
)
def test_any_compression_rod_is_told_in_finite_numbers(
    depths: tuple[int, int, int], sizes: tuple[int, int, int], wanted: int, heel: bool
) -> None:
    """In 0.1 mm: axis, diameters of rod and washer, width of the anchor; in 0.01 mm the wanted relief."""
    names = ("adjuster", "middle", "anchor")
    ends = [f"rod.axis_depth.{name}={depth / 10}" for name, depth in zip(names, depths, strict=True)]
    over = [*ends, f"rod.diameter={sizes[0] / 10}", f"rod.washer.diameter={sizes[1] / 10}"]
    over += [f"rod.anchor.width={sizes[2] / 10}", f"rod.adjuster.diameter={sizes[0] / 10 + 4}"]
    over += [f"action.wanted_relief={wanted / 100}", "rod.cover_strip.thickness=12"]
    over += ["rod.adjuster_at=heel", "rod_place.past_joint=-20"] if heel else []
    try:
        layout = laid_out("wheatear", *over)
    except DesignError:
        return
    for finding in findings(layout).values():
        json.dumps([finding.measured, finding.error, finding.limit, finding.worst_case, finding.more], allow_nan=False)
    rod = estimate(layout).rod
    if rod is not None:
        assert rod.most.need >= rod.likely.need >= rod.least.need
        assert 0 <= rod.likely.force <= rod.force_high or rod.likely.spare < 0
        assert all(0 <= face.area < sizes[1] ** 2 for face in rod.faces)
