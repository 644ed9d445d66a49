"""Dovetails and heels that narrow: the lines of both by hand, what is told of them, and what is refused."""

from __future__ import annotations

import math

import pytest
from dovetail_samples import CHANNEL, DOVETAIL
from ends_samples import TENON, design

from neckmodel.design import remarks
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.root import root_wood
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.json.layout import layout_json


def laid_out(*sets: str, sections: str = DOVETAIL) -> Layout:
    return lay_out(design(sections, sets=(*CHANNEL, *sets)))


def dovetail(layout: Layout) -> Dovetail:
    assert isinstance(layout.heel.tenon, Dovetail)
    return layout.heel.tenon


def test_the_root_and_what_it_keeps() -> None:
    """19 x 40 x 62, flare 12 unless stated, taper 5: 40 - 2 x 19 tan 12, and 2 x 62 tan 5 less at the bottom."""
    layout = laid_out()
    tenon = dovetail(layout)
    assert tenon.flare == 12.0
    assert 2 * tenon.half_at(tenon.x_root) == pytest.approx(31.923, abs=5e-4)
    assert 2 * tenon.half_at(tenon.x_root, 62.0) == pytest.approx(21.074, abs=5e-4)
    run = layout.step("run")
    assert (run.width, run.depth) == pytest.approx((6.1, 9.3))
    beside = tenon.half_at(tenon.x_root, run.depth) - run.width / 2
    assert beside == pytest.approx(12.098, abs=5e-4)
    least = root_wood(tenon, layout.steps)
    assert (least.wood, least.step) == (pytest.approx(10.537, abs=5e-4), None)


def test_the_heel_narrows_by_the_smoothstep_and_keeps_its_shoulders() -> None:
    """55 / 32 x 84: 40 down u = 40/84 and s = u u (3 - 2u) = 0.46431; the least shoulder lies at the dovetail's
    bottom."""
    heel = laid_out().heel
    assert 55.0 * heel.narrowing(40.0) == pytest.approx(44.321, abs=5e-4)
    assert 55.0 * heel.narrowing(0.0) == 55.0
    assert 55.0 * heel.narrowing(84.0) == pytest.approx(32.0)
    shoulder, down = heel.shoulder()
    assert shoulder == pytest.approx(3.378, abs=5e-4)
    assert down == 62.0


@pytest.mark.parametrize(
    ("width", "cap", "taper", "depth"),
    [(40.0, 32.0, 5.0, 62.0), (24.0, 20.0, 2.0, 84.0), (40.0, 30.0, 9.0, 80.0), (40.0, 46.0, 4.0, 70.0)],
)
def test_the_least_shoulder_by_trying_every_depth(width: float, cap: float, taper: float, depth: float) -> None:
    heel = laid_out(
        f"heel.width.cap={cap}",
        f"heel.tenon.taper={taper}",
        f"heel.tenon.depth={depth}",
        "heel.tenon.flare=4",
        f"heel.tenon.width={width}",
    ).heel
    tilt, found = math.tan(math.radians(taper)), math.inf
    for k in range(20001):
        down = depth * k / 20000
        u = down / 84.0
        wide = cap + (55.0 - cap) * (1 - u * u * (3 - 2 * u))
        found = min(found, wide / 2 - (width / 2 - down * tilt))
    assert heel.shoulder()[0] == pytest.approx(found, abs=1e-6)


def test_the_wood_from_a_point_to_a_cheek_by_brute_force() -> None:
    """Points of both cheeks on a fine grid: near the root the root's own edge is the nearest."""
    tenon = dovetail(laid_out())
    along, down = math.tan(math.radians(12)), math.tan(math.radians(5))
    for x in (tenon.x_root, tenon.x_root + 1.0, tenon.x_root + 12.0):
        best = math.inf
        for i in range(401):
            xc = tenon.x_root + 19.0 * i / 400
            for j in range(201):
                z = 31.0 * j / 200
                y = 20.0 - (tenon.x_end - xc) * along - z * down
                best = min(best, math.dist((xc, y, z), (x, 3.05, 9.3)))
        assert tenon.beside(x, 3.05, 9.3) == pytest.approx(best, abs=2e-3)


def test_the_fretboards_width_may_stand_at_the_joint() -> None:
    layout = laid_out('heel.width.joint="follow-fretboard"')
    wide = layout.outside.half_width(layout.heel.x_joint)
    assert wide == pytest.approx(layout.back.half_width(layout.heel.x_joint))
    assert wide * layout.heel.narrowing(84.0) == pytest.approx(16.0)


def test_the_cap_lies_under_the_heel_and_takes_no_wood_of_the_blank() -> None:
    layout, bare = laid_out(), laid_out(sections=DOVETAIL.replace('cap = {thickness = 3.0, wood = "ebony"}\n', ""))
    place = layout.heel_cap
    assert place is not None
    assert bare.heel_cap is None
    assert (place.z_top, place.z_bottom, place.width, place.x_end) == pytest.approx((-84, -87, 32, layout.heel.x_joint))
    # a third of the swell, about, is left level for it
    assert 0.28 * 36 < place.x_end - place.x_start < 0.4 * 36
    assert layout.blank_profile == bare.blank_profile


def test_what_is_told_for_other_programs() -> None:
    heel = layout_json(laid_out())["heel"]
    assert heel["dovetail"]["width_root"] == pytest.approx(31.92285, abs=1e-5)
    assert heel["dovetail"]["shoulder"] == pytest.approx(3.3776, abs=1e-4)
    assert (heel["width_joint"], heel["width_bottom"]) == (55.0, 32.0)
    plain = layout_json(lay_out(design(TENON)))["heel"]
    assert not {"dovetail", "width_joint", "width_bottom", "cap"} & set(plain)


def refused(*sets: str, sections: str = DOVETAIL) -> str:
    with pytest.raises(DesignError) as error:
        laid_out(*sets, sections=sections)
    return str(error.value)


BOLTED = '[heel]\nkind = "bolted"\n'
THROUGH = '[heel]\nkind = "through"\nwood_ends_at = 500.0\n'


@pytest.mark.parametrize("sections", [BOLTED, THROUGH])
@pytest.mark.parametrize(
    ("extra", "key"),
    [
        ("width = {joint = 58.0, cap = 40.0}\n", "heel.width"),
        ("cap = {thickness = 3.0}\n", "heel.cap"),
        ("tenon = {length = 19.0, width = 40.0, depth = 15.0, flare = 12.0}\n", "heel.tenon.flare"),
        ("tenon = {length = 19.0, width = 40.0, depth = 15.0, taper = 3.0}\n", "heel.tenon.taper"),
    ],
)
def test_what_only_a_glued_heel_may_have(sections: str, extra: str, key: str) -> None:
    said = refused(sections=sections + extra)
    assert key in said
    assert f'is stated beside heel.kind = "{"bolted" if sections == BOLTED else "through"}"' in said


def test_a_plain_tenon_has_no_flare() -> None:
    said = refused("heel.tenon.flare=12", sections=TENON)
    assert "heel.tenon.flare" in said
    assert "upright cheeks" in said


@pytest.mark.parametrize(
    ("sets", "key", "says"),
    [
        (("heel.tenon.width=60",), "heel.tenon.width", "is more than the heel's"),
        (("heel.tenon.width=48",), "heel.tenon.width", "below the glue plane"),
        (("heel.tenon.width=16",), "heel.tenon.width", "cheeks come together"),
        (("heel.width.cap=60",), "heel.width.cap", "at the glue plane"),
        (("heel.width.joint=50",), "heel.width.joint", "at the joint"),
        (("heel.tenon.depth=90",), "heel.tenon.depth", "is more than the heel's"),
        (("heel.tenon.flare=40",), "heel.tenon.flare", "too large"),
    ],
)
def test_a_dovetail_that_cannot_be(sets: tuple[str, ...], key: str, says: str) -> None:
    said = refused(*sets)
    assert key in said
    assert says in said


def test_the_width_that_a_refusal_allows_is_allowed() -> None:
    said = refused("heel.tenon.width=48")
    width = said.partition("at most ")[2].split()[0]
    assert laid_out(f"heel.tenon.width={width}").heel.shoulder()[0] == pytest.approx(0.0, abs=0.01)


def test_a_heel_half_stated() -> None:
    assert "heel.tenon" in refused(sections='[heel]\nkind = "dovetail"\ndepth = 60.0\n')
    assert "heel.width.cap" in refused(sections=DOVETAIL.replace(", cap = 32.0", ""))
    assert "heel.cap.thickness" in refused(sections=DOVETAIL.replace("thickness = 3.0, ", ""))


def test_angles_outside_the_usual_range_are_told() -> None:
    told = remarks(design(DOVETAIL, sets=(*CHANNEL, "heel.tenon.flare=7", "heel.tenon.taper=8")))
    assert sum("heel.tenon.flare = 7" in line or "heel.tenon.taper = 8" in line for line in told) == 2


def test_a_file_in_inches_keeps_its_degrees() -> None:
    layout = laid_out("heel.tenon.flare=10", 'heel.tenon.width="1.5 in"')
    assert dovetail(layout).flare == 10.0
    assert 2 * dovetail(layout).half_width == pytest.approx(38.1)
