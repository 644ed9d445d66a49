"""The neck parted into its strips: whole, on the right side, and written as parts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import trimesh
from strip_samples import ONE_SIDED, SISKIN, built, laid_out

from neckmodel.cli.app import app
from neckmodel.design import read
from neckmodel.layout import lay_out
from neckmodel.solids import build
from neckmodel.solids.kernel.box import box
from neckmodel.solids.kernel.gate import is_sound, volume
from neckmodel.solids.strips import in_strips

SAME = 2e-3  # mm; a box is that of the kernel's own edges


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_strips_are_together_the_neck(hand: str) -> None:
    """Their volumes come to the neck's within 1e-5, each ends at its seams, strip 1 on the bass side. Strip 2 is 2 wide
    and three tuner holes 10 wide go through it: it comes in four parts, numbered from the head."""
    parts = built(ONE_SIDED, f"design.hand={hand}")
    apart = in_strips(parts)
    found = {part.name: part for part in apart.parts if part.name.startswith("neck-strip-")}
    cut = [f"neck-strip-2-{k}" for k in (1, 2, 3, 4)]
    assert [*found] == ["neck-strip-1", *cut, "neck-strip-3", "neck-strip-4"]
    assert "neck" not in apart
    assert sum(volume(part.solid) for part in found.values()) == pytest.approx(volume(parts["neck"].solid), rel=1e-5)
    assert all(is_sound(part.solid) for part in found.values())
    starts = [box(found[name].solid)[0] for name in cut]
    assert starts == sorted(starts)
    side = 1 if hand == "right" else -1
    for name, seams in (("neck-strip-2-4", (-12.5, -10.5)), ("neck-strip-3", (-10.5, 1.5))):
        _, y0, _, _, y1, _ = box(found[name].solid)
        assert sorted((side * y0, side * y1)) == pytest.approx(seams, abs=SAME)
    assert found["neck-strip-1"].colour == found["neck-strip-4"].colour != found["neck-strip-3"].colour


def test_a_scarfed_head_piece_is_parted_too() -> None:
    parts = build(lay_out(read("wheatear", [ONE_SIDED.replace("31.0", "28.0")])))
    apart = in_strips(parts)
    for whole in ("neck", "head-piece"):
        found = [part for part in apart.parts if part.name.startswith(f"{whole}-strip-")]
        assert len(found) == 4
        assert sum(volume(part.solid) for part in found) == pytest.approx(volume(parts[whole].solid), rel=1e-5)


def test_a_board_in_one_piece_stays_one_part() -> None:
    parts = build(lay_out(read("redpoll")))
    assert in_strips(parts) is parts


def test_build_writes_each_strip(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, out = tmp_path / "siskin.toml", tmp_path / "out"
    file.write_text(SISKIN, encoding="utf-8")
    call = ["build", str(file), "--strips", "--format", "stl", "--format", "step", "--quiet", "--out", str(out)]
    with pytest.raises(SystemExit) as ended:
        app(call)
    assert ended.value.code == 0, capsys.readouterr()
    findings = json.loads((out / "findings.json").read_text(encoding="utf-8"))
    names = [part["name"] for part in findings["parts"] if part["name"].startswith("neck")]
    assert names == [f"neck-strip-{k}" for k in range(1, 6)]
    for part in (part for part in findings["parts"] if part["name"] in names):
        mesh = trimesh.load_mesh(out / f"siskin-{part['name']}.stl")
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(part["volume"], rel=3e-3)
    step = (out / "siskin-assembly.step").read_text(encoding="utf-8")
    assert "'neck-strip-3'" in step


def test_strips_of_a_board_in_one_piece_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        app(["build", "redpoll", "--strips", "--quiet"])
    assert ended.value.code == 2
    assert "--strips: this design's board is not glued up from strips" in capsys.readouterr().err


def test_the_order_of_work_begins_with_the_board() -> None:
    from neckmodel.work.order import order_of_work

    works = order_of_work(laid_out(ONE_SIDED))
    assert works[0].title == "Glue up the board"
    assert "strip 2, sugar maple: 720.00 mm x 27.00 mm x 5.00 mm" in works[0].says[0]
    assert "a week at least" in works[0].says[-1]
    drilled = next(work for work in works if work.title == "Drill")
    assert any("tuner 1 meets the seams at y -12.50 mm and y -10.50 mm" in line for line in drilled.says)
    assert "screw 1 bites in mahogany." in drilled.says
