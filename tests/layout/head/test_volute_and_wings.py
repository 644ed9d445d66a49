"""Volutes by their law on the exact solid; wings that take the head beyond the blank and nothing else."""

from __future__ import annotations

import numpy as np
import pytest
from ends_samples import design
from ends_solids import assert_sound, box, built, found_all, glued, laid_out, lowest, share

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.solids.kernel.gate import volume

STEPPED = '[head]\nkind = "stepped"\n'
ANGLED = '[head]\nkind = "angled"\nangle = 14.0\nthickness = 14.5\n'
VOLUTE = "volute = {length = 30.0, height = 4.0}\n"
WIDE = "outline = {near = 50.0, far = 96.0}\n"
WINGS = 'wings = [{side = "bass", width = 22.0, length = 140.0}, {side = "treble", width = 22.0, length = 140.0}]\n'
FAR = (-300.0, 300.0)


@pytest.mark.parametrize("head", [STEPPED, ANGLED], ids=["stepped", "angled"])
def test_the_volute_stands_by_its_law(head: str) -> None:
    """height (1 - v v)**2 more than without it, v = (x - x_b)/(length/2), wherever both are carved."""
    with_it, without = built(head + VOLUTE), built(head + f"swell_length = {laid_out(head + VOLUTE).head.swell}\n")
    assert_sound(with_it)
    for x in np.linspace(-6 - 14.9, -6 + 14.9, 13):
        v = (x + 6) / 15
        more = lowest(without.carved, float(x)) - lowest(with_it.carved, float(x))
        if -lowest(without.carved, float(x)) < without.layout.outside.flat_depth(min(float(x), -1e-9)) - 0.01 or x > 0:
            assert more == pytest.approx(4 * (1 - v * v) ** 2, abs=0.01)
    assert lowest(with_it.carved, -6.0) == pytest.approx(-with_it.layout.outside.keel(-6.0), abs=0.01)
    assert lowest(with_it.carved, 9.5) == pytest.approx(lowest(without.carved, 9.5), abs=1e-3)


def test_a_volute_only_adds_wood() -> None:
    with_it, without = (
        built(ANGLED + VOLUTE),
        built(ANGLED + f"swell_length = {laid_out(ANGLED + VOLUTE).head.swell}\n"),
    )
    assert volume(without.carved.cut(with_it.carved)) < 1e-3
    assert volume(with_it.carved) > volume(without.carved) + 500


def test_the_stock_stands_below_the_volute() -> None:
    layout = laid_out(ANGLED + VOLUTE)
    xs = np.linspace(layout.outside.x_head_stock, layout.back.x_1, 200)
    profile = layout.blank_profile
    bottom = sorted((x, z) for x, z in profile if z < -5)
    low = np.interp(xs, [x for x, _ in bottom], [z for _, z in bottom])
    assert np.all(-low - [layout.outside.keel(x) for x in xs] >= 0.249)


@pytest.mark.parametrize(
    ("sections", "key"),
    [
        (ANGLED + "swell_length = 30.0\nvolute = {length = 40.0, height = 5.0}\n", "head.swell_length"),
        (STEPPED + "volute = {length = 100.0, height = 4.0}\n", "head.volute.length"),
    ],
)
def test_volutes_without_room(sections: str, key: str) -> None:
    with pytest.raises(DesignError, match=r"at least|at most") as caught:
        lay_out(design(sections))
    problem = caught.value.problems[0]
    assert problem.key == key
    number = problem.allowed.split()[2]
    assert lay_out(design(sections, sets=(f"{key}={number}",))).head.volute


def test_wings_hold_what_lies_beyond_the_blank() -> None:
    parts = built(STEPPED + WIDE + WINGS)
    assert_sound(parts)
    half = parts.layout.blank_half_width
    # the shaft and the heel alone, with the allowance of 2.5
    assert half == pytest.approx(parts.layout.back.half_width(parts.layout.heel.x_end) + 2.5)
    pieces = glued(parts)
    for name, sign in (("wing-1", -1), ("wing-2", 1)):
        limits = pieces[name].BoundingBox(1e-7)
        outer = box(FAR, tuple(sorted((sign * half, sign * 200))), FAR)
        assert volume(pieces[name]) == pytest.approx(share(parts.carved, outer), rel=1e-6)
        assert min(abs(limits.ymin), abs(limits.ymax)) == pytest.approx(half, abs=1e-6)
        assert limits.zmax - limits.zmin == pytest.approx(14, abs=1e-6)
    assert volume(pieces["wing-1"]) == pytest.approx(volume(pieces["wing-2"]), rel=1e-6)
    findings = found_all(STEPPED + WIDE + WINGS)
    assert findings["overlap/none"].verdict == "pass"


def test_the_wings_area_by_its_triangle() -> None:
    """Beyond the half width h the tapered side cuts off a triangle, less the round corner's share, all within h."""
    parts = built(STEPPED + WIDE + WINGS)
    head, half = parts.layout.head, parts.layout.blank_half_width
    slope = (96 - 50) / 2 / 170
    reach = 48 - half
    triangle = reach**2 / slope / 2
    corner = 8.0**2 * (1 - np.pi / 4) + 8 * 8 * slope  # a square corner of 8, and what the taper may add to it
    area = volume(parts["wing-2"].solid) / 14
    assert triangle - corner <= area <= triangle
    assert head.reach(1) == 48


@pytest.mark.parametrize(
    ("wings", "says"),
    [
        ('wings = [{side = "bass", width = 22.0, length = 140.0}]\n', "no farther than the blank with its"),
        (WINGS.replace("22.0", "8.0"), "does not reach the outline's 48.00 mm; at least"),
        (WINGS.replace("140.0", "60.0"), "does not reach all of the head beyond the blank; at least"),
        (WINGS.replace("140.0}]", '140.0}, {side = "bass", width = 5.0, length = 140.0}]'), "already reach"),
    ],
)
def test_wings_that_do_not_do(wings: str, says: str) -> None:
    with pytest.raises(DesignError, match=says):
        lay_out(design(STEPPED + WIDE + wings))
