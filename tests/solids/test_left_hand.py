"""Left-handed necks: the same solids seen in a mirror, the same findings, every place on the other side."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from neckmodel.checks import check
from neckmodel.cli.app import app
from neckmodel.design import Design, read
from neckmodel.findings import Findings
from neckmodel.layout import lay_out
from neckmodel.layout.json.hand import ACROSS, IN_PLAN
from neckmodel.layout.json.layout import layout_json
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import is_sound, volume
from neckmodel.solids.parts import Parts

PRESET = Path(__file__).parents[2] / "presets" / "redpoll.toml"
# nothing about this neck is symmetric: slanted frets, a leaning back, tuners in one row, screws out of line
UNEQUAL = [
    "strings.scale={bass = 660, treble = 630, square_fret = 7}",
    "head.starts_at=-13",
    "head.swell_length=36",
    "fretboard.ends_at=476",
    "heel.wood_ends_at=476",
    "neck.back.lean=3",
    "heel.screws.0.y=-15",
    "heel.screws.3.from_end=55",
    "head.tuners=[{x = -45, y = -11, hole = 10, housing = {length = 20, width = 14}}, "
    "{x = -75, y = 14, hole = 9, housing = {length = 20, width = 14}}]",
]


def design(hand: str) -> Design:
    return read(PRESET, [*UNEQUAL, f'design.hand="{hand}"'])


@pytest.fixture(scope="module")
def both() -> tuple[tuple[Parts, Findings], tuple[Parts, Findings]]:
    made = [build(lay_out(design(hand))) for hand in ("right", "left")]
    right, left = ((parts, check(parts)) for parts in made)
    return right, left


def test_every_solid_is_the_mirror_image(both: tuple[tuple[Parts, Findings], tuple[Parts, Findings]]) -> None:
    (right, _), (left, _) = both
    assert [part.name for part in left.parts] == [part.name for part in right.parts]
    for one, other in zip(right.parts, left.parts, strict=True):
        assert is_sound(other.solid)
        assert volume(other.solid) == pytest.approx(volume(one.solid), rel=1e-9)
        a, b = one.solid.Center(), other.solid.Center()
        # the kernel integrates centres of free surfaces to 0.0001 mm or so, not alike from both sides
        assert (b.x, b.y, b.z) == pytest.approx((a.x, -a.y, a.z), abs=1e-3)
        a, b = one.solid.BoundingBox(), other.solid.BoundingBox()
        assert (b.xmin, b.ymin, b.zmin) == pytest.approx((a.xmin, -a.ymax, a.zmin), abs=1e-6)
        assert (b.xmax, b.ymax, b.zmax) == pytest.approx((a.xmax, -a.ymin, a.zmax), abs=1e-6)
    assert abs(right["neck"].solid.Center().y) > 0.05  # or nothing above would have been seen


def test_tools_and_openings_go_with_the_solids(both: tuple[tuple[Parts, Findings], tuple[Parts, Findings]]) -> None:
    (right, _), (left, _) = both
    for one, other in zip((*right.tools, *right.holes), (*left.tools, *left.holes), strict=True):
        assert other.step == one.step
        assert other.solid.Center().y == pytest.approx(-one.solid.Center().y, abs=1e-9)
    assert left.laid_out is not None
    assert left.laid_out["neck"].solid.Center().y == pytest.approx(right["neck"].solid.Center().y, abs=1e-9)
    assert right.laid_out is None


def test_the_findings_are_equal_but_for_their_side(both: tuple[tuple[Parts, Findings], tuple[Parts, Findings]]) -> None:
    (_, right), (_, left) = both
    turned = [
        found if found.at is None else replace(found, at=replace(found.at, y=-found.at.y + 0.0))
        for found in left.findings
    ]
    assert turned == list(right.findings)
    assert any(found.at is not None and abs(found.at.y) > 1 for found in right.findings)
    for one, other in zip(right.parts, left.parts, strict=True):
        x0, y0, z0, x1, y1, z1 = one.bounds
        assert other == replace(one, bounds=(x0, -y1 + 0.0, z0, x1, -y0 + 0.0, z1))


def test_findings_name_places_on_the_true_solid(both: tuple[tuple[Parts, Findings], tuple[Parts, Findings]]) -> None:
    """A screw that a finding places lies within its own solid."""
    _, (parts, findings) = both
    found = findings["heel/screws"]
    assert found.at is not None
    box = parts[found.part].solid.BoundingBox()
    assert box.ymin <= found.at.y <= box.ymax


def _across(data: object, key: str = "") -> list[tuple[str, object]]:
    """Every value whose name speaks of y, of a slope or of a point, wherever it stands."""
    if isinstance(data, dict):
        return [item for name, value in data.items() for item in _across(value, name)]
    if isinstance(data, list) and key not in IN_PLAN:
        return [item for value in data for item in _across(value, key)]
    return [(key, data)]


def test_the_layouts_data_says_where_things_lie_on_the_finished_neck() -> None:
    right, left = (layout_json(lay_out(design(hand))) for hand in ("right", "left"))
    assert (right["hand"], left["hand"]) == ("right", "left")
    for (key, a), (_, b) in zip(_across(right), _across(left), strict=True):
        if key in ACROSS:
            assert b == -a, key  # type: ignore[operator]
        elif key in IN_PLAN:
            assert type(b) is type(a), key
        elif key not in ("hand", "design_sha256"):
            assert b == a, key
    for one, other in zip(right["strings"], left["strings"], strict=True):
        assert (other["y_nut"], other["y_bridge"]) == (-one["y_nut"], -one["y_bridge"])
    for one, other in zip(right["tuners"], left["tuners"], strict=True):
        assert (other["x"], other["y"], other["z"]) == (one["x"], -one["y"], one["z"])
    assert left["fretboard"]["start"] == [[x, -y] for x, y in right["fretboard"]["start"]]


def test_no_name_of_the_layouts_data_is_forgotten() -> None:
    """Whatever is called y, or ends in _y, turns; so would anything new under such a name."""
    data = layout_json(lay_out(design("right")))
    spoken = {key for key, _ in _across(data) if key == "y" or key.startswith("y_") or key.endswith("_y")}
    assert spoken <= ACROSS
    assert {"y", "y_nut", "y_bridge", "deepest_y"} <= spoken


def test_exported_files_hold_the_mirror_image(tmp_path: Path) -> None:
    """The STEP and STL files of the export are the left-handed solids, and layout.json says so."""
    import trimesh
    from typer.testing import CliRunner

    file = tmp_path / "neck.toml"
    file.write_text(PRESET.read_text(encoding="utf-8").replace('hand = "right"', 'hand = "left"'), encoding="utf-8")
    overrides = [part for override in UNEQUAL for part in ("--set", override)]
    out = tmp_path / "out"
    done = CliRunner().invoke(
        app, ["build", str(file), "--format", "stl", "--out", str(out), "--quiet", "--despite-findings", *overrides]
    )
    assert out.is_dir(), done.output
    board = next(trimesh.load_mesh(path) for path in out.glob("*fretboard.stl"))
    assert json.loads((out / "layout.json").read_text(encoding="utf-8"))["hand"] == "left"
    first = board.vertices[board.vertices[:, 0] < board.vertices[:, 0].min() + 1e-3]
    assert (first[:, 1] > 0).all()  # the bass end of this nut lies toward the head, on a left-handed neck at y > 0
