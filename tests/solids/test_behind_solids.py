"""The solids of necks with a rod put in from the back, and what the checks measure on them."""

from __future__ import annotations

import pytest
from behind_samples import found, laid, solids

from neckmodel.solids.kernel.gate import volume


def test_the_strip_and_the_neck_fill_what_the_rod_leaves() -> None:
    """Neck and strip together are the carved wood less the rod's room and the bore, in numbers by closed forms."""
    parts, layout = solids("straight"), laid()
    run, pocket, bore = (layout.step(name) for name in ("run", "adjuster", "key-bore"))
    room = sum((s.x_end - s.x_start) * s.width * (s.depth - s.top) for s in (run, pocket))
    carved, neck, strip = (volume(s) for s in (parts.carved, parts["neck"].solid, parts["back-strip"].solid))
    drilled = sum(hole.solid.intersect(parts.carved).Volume() for hole in parts.holes)
    bored = 3.14159265 / 4 * bore.width**2 * (bore.x_end - bore.x_start)
    assert carved - neck - strip == pytest.approx(room + bored + drilled, rel=2e-3)


def test_the_strip_is_as_wide_as_the_channel_and_ends_with_it() -> None:
    box = solids("straight")["back-strip"].solid.BoundingBox()
    assert (box.xmin, box.xmax) == pytest.approx((6.0, 428.0), abs=1e-5)
    assert (box.ymin, box.ymax) == pytest.approx((-3.9, 3.9), abs=1e-5)
    assert box.zmax == pytest.approx(-8.2, abs=1e-5)  # the adjuster's pocket is the shallowest: 4.3 + 3.9


def test_the_checks_measure_what_the_layout_says() -> None:
    findings = found("straight")
    assert findings.passed
    # a fret slot's floor follows the crown: at the channel's edge it lies 3.05**2 / (2 * 281) = 0.017 lower
    assert findings["wall/top"].measured == pytest.approx(3.800 - 0.017, abs=0.01)
    assert findings["wall/top"].more["to_crown"] == pytest.approx(6.1, abs=1e-4)
    assert findings["cover/back-strip"].measured == pytest.approx(4.895, abs=0.03)
    assert findings["wall/run"].measured == pytest.approx(4.895, abs=0.03)
    assert findings["wall/key-bore"].measured == pytest.approx(7.18, abs=0.03)
    assert findings["cover/back-strip"].more["cheek"] == pytest.approx(4.922, abs=0.05)
    told = {finding.check for finding in findings}
    assert not told & {"glue/nut", "cover/run", "cover/adjuster", "fit/strip"}


def test_a_bent_rod_lies_on_a_floor_of_its_own_curve() -> None:
    findings = found("bent")
    assert findings["fit/run"].verdict == "pass"
    assert findings["fit/run"].more["over_rod"] == pytest.approx(0.0, abs=0.02)
    assert "overlap/none" in findings
    assert "fit/strip" not in findings
    assert findings["access/swing"].verdict == "pass"


IN_ONE = ("fretboard.in_one=true", "fretboard.wood=maple", "board.thickness=30")


def test_neck_and_fretboard_in_one_piece_are_one_solid() -> None:
    parts, apart = solids("straight", *IN_ONE), solids("straight")
    assert "fretboard" not in parts
    both = volume(apart["neck"].solid) + volume(apart["fretboard"].solid)
    assert volume(parts["neck"].solid) == pytest.approx(both, rel=1e-6)
    box = parts["neck"].solid.BoundingBox()
    assert box.zmax == pytest.approx(6.0, abs=1e-6)
    assert len(parts["neck"].solid.Solids()) == 1
    assert parts["blank"].solid.BoundingBox().zmax == pytest.approx(6.0, abs=1e-6)


def test_the_checks_find_on_one_piece_what_they_find_on_two() -> None:
    one, apart = found("straight", *IN_ONE), found("straight")
    for name in ("wall/top", "wall/run", "cover/back-strip", "fret-slots/wood", "access/swing"):
        assert one[name].measured == pytest.approx(apart[name].measured, abs=1e-6)
    assert one.passed
    assert not any("glue plane" in finding.says for finding in one)
