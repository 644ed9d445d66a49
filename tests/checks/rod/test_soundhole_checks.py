"""The checks of a key from the soundhole: measured on the solids of rod and key, and mended by their remedies."""

from __future__ import annotations

from functools import cache

import cadquery as cq
import numpy as np
import pytest
from measured_runs import measured_parts
from soundhole_samples import BALL_END, IN_WOOD, L_KEY, built, design, found_all, laid_out, uncut, way

from neckmodel.checks import check, prove
from neckmodel.checks.bench import Bench
from neckmodel.checks.registry import about
from neckmodel.checks.rod.soundhole import check_turning, check_way
from neckmodel.design import changed
from neckmodel.findings import Finding, ways_of
from neckmodel.layout import lay_out


def bench(*overrides: str) -> Bench:
    """A neck whose wood, where it has the same shape, is carved once for all."""
    return Bench(measured_parts(laid_out(*overrides), uncut(*IN_WOOD)))


@cache
def told(*overrides: str) -> dict[str, Finding]:
    """What is found for which no neck need be carved."""
    return {found.check: found for found in check_way(bench(*overrides))}


def mended(overrides: tuple[str, ...], check: str) -> list[str]:
    """The verdict of the check after each way of its remedy, by itself."""
    remedy, verdicts = told(*overrides)[check].remedy, []
    for each in ways_of(remedy):
        layout = lay_out(changed(design(*overrides), each.set))
        after = {found.check: found for found in check_way(Bench(measured_parts(layout, uncut(*IN_WOOD))))}
        verdicts.append(after[check].verdict)
    return verdicts


def test_the_sample_passes_as_a_whole() -> None:
    found = check(built(*IN_WOOD))
    assert [finding.check for finding in found if finding.verdict == "fail"] == []
    assert [found[f"access/{name}"].verdict for name in ("reach", "top", "swing", "withdraw", "strings")] == [
        "pass"
    ] * 5
    assert found["access/brace"].verdict == "warn"
    assert "wall/rod-end" not in found
    assert found["place/anchor"].says.startswith("the block's outer face lies 13.98 mm past the joint")


def test_the_printed_values_as_measured() -> None:
    """On the solids: the adjuster's axis by a section of the rod, the key's length by its mesh."""
    found = told()
    assert found["access/top"].measured == pytest.approx(2.460, abs=5e-4)
    assert found["access/brace"].measured == pytest.approx(2.565, abs=5e-4)
    assert found["access/brace"].more["brace_1_under"] == pytest.approx(6.619, abs=5e-4)
    assert found["access/reach"].measured == pytest.approx(90 + 20 - 83.0, abs=1e-3)
    assert told(*L_KEY)["access/reach"].measured == pytest.approx(70 - 64.17, abs=1e-3)
    assert all(each.error is not None and each.error > 0 for each in found.values())


def test_the_bore_s_room_is_that_of_solids() -> None:
    """Second route: the exact distance between a cylinder on the rod's own axis and the top's under side, a plane
    solid. Square to the top it is shorter than upright by the cosine of 0.6 degrees."""
    rod = uncut(*IN_WOOD)["rod"].solid
    end = max(rod.Faces(), key=lambda face: face.Center().x)
    axis = end.Center().z
    assert axis == pytest.approx(-9.6, abs=1e-6)
    (found, _), x0, x1 = way(*IN_WOOD), 390.0215, 452.0
    bore = cq.Solid.makeCylinder(6.67 / 2, x1 - x0, cq.Vector(x0, 0, axis), cq.Vector(1, 0, 0))
    profile = [(x, found.top.under(x)) for x in (x0, x1)] + [(x1, 10.0), (x0, 10.0)]
    top = cq.Workplane("XZ").polyline(profile).close().extrude(40, both=True).val()
    upright = told(*IN_WOOD)["access/top"].measured
    assert upright is not None
    assert bore.distance(top) == pytest.approx(upright * np.cos(np.radians(0.6)), abs=2e-4)


def test_a_key_that_is_too_short_is_told_by_how_much() -> None:
    found = told("adjusting_key.length=60", "adjusting_key.handle.length=15")["access/reach"]
    assert (found.verdict, found.measured) == ("fail", pytest.approx(-8.0, abs=1e-3))
    assert found.limit == 0.0
    assert "8.00 mm short: it takes 83.00 mm" in found.says
    assert mended(("adjusting_key.length=60", "adjusting_key.handle.length=15"), "access/reach") == ["pass"]


def test_a_short_arm_in_the_socket_is_told_the_long_one() -> None:
    over = (*L_KEY, "adjusting_key.arm_in_socket=short", "adjusting_key.short_arm=50", "adjusting_key.long_arm=80")
    remedy = told(*over)["access/reach"].remedy
    assert remedy is not None
    assert {"adjusting_key.arm_in_socket": "long"} in [each.set for each in ways_of(remedy)]
    assert set(mended(over, "access/reach")) == {"pass"}


def test_a_bore_that_cuts_the_top_fails_and_its_remedies_pass() -> None:
    over = (*IN_WOOD, "rod.adjuster.axis_below_top=6.5")
    found = told(*over)["access/top"]
    assert (found.verdict, found.measured) == ("fail", pytest.approx(2.460 - 3.0, abs=6e-4))
    assert "cuts 0.54 mm into the top" in found.says
    verdicts = mended(over, "access/top")
    assert len(verdicts) >= 2
    assert set(verdicts) == {"pass"}


@pytest.mark.parametrize(
    ("over", "measured"),
    [(("body.braces.0.depth=10",), 0.619), (("rod.adjuster.axis_below_top=16", "rod.block.height=19"), 0.119)],
)
def test_little_wood_under_the_bore_fails_and_its_remedies_pass(over: tuple[str, ...], measured: float) -> None:
    found = told(*IN_WOOD, *over)["access/brace"]
    assert (found.verdict, found.limit) == ("fail", 3.0)
    assert found.measured == pytest.approx(measured, abs=6e-4)
    assert "pass" in mended((*IN_WOOD, *over), "access/brace")


def test_a_bore_that_comes_out_under_a_brace_is_negative_by_its_depth() -> None:
    found = told(*IN_WOOD, "body.braces.0.depth=9")["access/brace"]
    assert (found.verdict, found.measured) == ("fail", pytest.approx(6.619 - 7.0, abs=6e-4))
    assert "comes out under brace 1, 0.38 mm deep" in found.says


def test_the_limit_of_a_brace_is_the_maker_s_own() -> None:
    assert told(*IN_WOOD, "limits.access_brace=2.2")["access/brace"].verdict == "pass"
    assert told(*IN_WOOD, "limits.access_brace=7")["access/brace"].verdict == "fail"


def test_of_two_braces_each_is_told() -> None:
    over = "body.braces=[{from = 414.0, to = 424.0, depth = 13.0}, {from = 428.0, to = 442.0, depth = 16.0}]"
    found = told(*IN_WOOD, over)["access/brace"]
    assert {"brace_1_over", "brace_1_under", "brace_2_over", "brace_2_under"} == set(found.more)
    assert told(*IN_WOOD, over.replace("13.0", "10.0"))["access/brace"].says.startswith("brace 1 keeps")


def test_a_handle_too_wide_to_go_beside_the_strings_warns() -> None:
    found = told("adjusting_key.handle.diameter=30")["access/strings"]
    assert (found.verdict, found.measured) == ("warn", pytest.approx(21.79 - 30.0, abs=0.01))
    assert mended(("adjusting_key.handle.diameter=30",), "access/strings") == ["pass"]


def test_without_braces_nothing_is_said_of_them() -> None:
    assert "access/brace" not in told(*IN_WOOD, "body.braces=[]")


def turning(*overrides: str) -> dict[str, Finding]:
    return {found.check: found for found in check_turning(bench(*overrides))}


def test_a_hanging_arm_that_meets_the_back_fails() -> None:
    """An arm of 100, as it turns, reaches hypot(97.5, 2.835) below the axis; the back's inner side lies 92.4 below the
    top's."""
    over = (*IN_WOOD, *L_KEY, "adjusting_key.long_arm=100", "adjusting_key.short_arm=100")
    found = turning(*over)["access/swing"]
    x = 378.0 + 100.0 - 5.67
    back = -2.8 - (x - 356.0215) * np.tan(np.radians(0.6)) - 92.4
    assert (found.verdict, found.measured) == ("fail", pytest.approx(-9.6 - np.hypot(97.5, 2.835) - back, abs=1e-3))
    key = np.asarray(bench(*over).mesh("adjusting-key").bounds)
    assert key[0, 2] == pytest.approx(-9.6 - 97.5, abs=0.01)  # it hangs: the solid says so
    remedy = found.remedy
    assert remedy is not None
    (only,) = ways_of(remedy)
    assert lay_out(changed(design(*over), only.set)).soundhole_way is not None
    assert only.set.keys() == {"adjusting_key.short_arm"}


def test_a_key_that_neither_ends_in_the_soundhole_nor_passes_under_the_top_cannot_come_out() -> None:
    over = (*IN_WOOD, "adjusting_key.length=130")
    found = turning(*over)["access/withdraw"]
    assert found.verdict == "fail"
    assert found.measured == pytest.approx(9.6 - 2.8 - (442 + 147 - 356.0215) * np.tan(np.radians(0.6)) - 5.0, abs=1e-3)
    slim = turning(*over, "adjusting_key.handle.diameter=7")["access/withdraw"]
    assert slim.verdict in ("pass", "warn")


def test_a_ball_end_key_turns_and_comes_out_along_its_own_line() -> None:
    found = turning(*IN_WOOD, *BALL_END, "adjusting_key.length=92")
    assert [each.verdict for each in found.values()] == ["pass", "pass"]


def test_remedies_are_proven() -> None:
    """One whole way through: what is offered passes, and what follows from the same cause is told under it."""
    over = (*IN_WOOD, "adjusting_key.length=60", "adjusting_key.handle.length=25")
    found = prove(uncut(*over), found_all(*over))
    assert found["access/reach"].verdict == "fail"
    assert found["access/reach"].remedy is not None
    assert found["access/reach"].remedy.leaves == "pass"
    pair = ("access/reach", "place/adjuster")
    assert [found[name].follows for name in pair] in ([None, pair[0]], [pair[1], None])


@pytest.mark.parametrize("check", ["reach", "top", "brace", "swing", "withdraw", "strings"])
def test_each_has_its_page(check: str) -> None:
    assert "soundhole" in about(f"access/{check}").measures
