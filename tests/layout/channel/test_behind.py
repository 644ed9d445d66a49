"""A channel cut from the back: where it lies, what it leaves, and what is refused.

The numbers to three decimals are worked out by hand from the sections' formulas: straight up and down for the top, the
superellipse itself for the strip's sides.
"""

from __future__ import annotations

import math

import pytest
from behind_samples import BEHIND, GADWALL, bent, laid, laid_bent

from neckmodel.design import read, read_text
from neckmodel.design.remarks import remarks
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.channel.behind import over_channel, proud_of_back
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.neck.section import Opening, section_walls
from neckmodel.layout.rod.bounds import Bound
from neckmodel.presets import path_of
from neckmodel.variants.tolerance.report import vary_tolerance

FRONT = lay_out(read(path_of("redpoll")))


def refused(*overrides: str) -> str:
    with pytest.raises(DesignError) as told:
        lay_out(read(path_of("redpoll"), (*BEHIND, *overrides)))
    return str(told.value)


def test_a_straight_rod_lies_where_it_lies_from_the_front() -> None:
    front, back = FRONT.step("run"), laid().step("run")
    assert (back.x_start, back.x_end, back.width) == (front.x_start, front.x_end, front.width)
    assert back.top == pytest.approx(0.1, abs=1e-9)
    assert back.depth == pytest.approx(front.depth, abs=1e-9)


def test_wood_over_a_straight_channel() -> None:
    over = over_channel(laid().steps, laid().fretboard)
    assert over.wall == pytest.approx(3.800, abs=5e-4)  # 6.0 - 2.3 + 0.1
    assert over.to_crown == pytest.approx(6.100, abs=5e-4)


def test_wood_and_glued_sides_behind_a_straight_rod() -> None:
    strip = laid().back_strip
    assert strip is not None
    assert (strip.x_over, strip.over) == (17.0, pytest.approx(4.895, abs=5e-4))
    assert (strip.x_cheek, strip.cheek) == (17.0, pytest.approx(4.922, abs=5e-4))


def test_wood_over_and_behind_a_bent_rod() -> None:
    """The rod of 5 in 5.2, its axis 4.6, 7.4 and 4.6 mm deep over x 10 to 360, in the run alone."""
    layout = laid_bent()
    run, rod, board = layout.step("run"), layout.rod, layout.fretboard
    assert rod is not None
    assert rod.curve is not None
    tops = [rod.curve.at(x) - 2.5 + board.thickness - board.slot_depth for x in (10.0, 185.0, 360.0)]
    assert tops == pytest.approx([5.800, 8.600, 5.800], abs=5e-4)
    assert run.top_at(185.0) == pytest.approx(4.9, abs=1e-6)
    xs = [22.0 + 0.05 * k for k in range(6760)]
    walls = section_walls([layout.back.section(x) for x in xs], [Opening(-2.6, 2.6, rod.curve.at(x) + 2.5) for x in xs])
    k = int(walls.argmin())
    # so flat there that half a mm along the neck changes it by less than 1e-5
    assert (xs[k], float(walls[k])) == (pytest.approx(146.5, abs=0.6), pytest.approx(5.897, abs=5e-4))


def test_the_strips_sides_by_the_superellipse() -> None:
    """`b sqrt(1 - (y/a)**2)` less the rod's underside, at x 17 of a C back."""
    fret_1, fret_12 = (640 * (1 - 2 ** (-n / 12)) for n in (1, 12))
    half = (35.4 + 7.2 + 17.0 / 640 * 17.1) / 2
    deep = 20.5 + 2 * (17 - fret_1) / (fret_12 - fret_1) - 6
    assert deep * math.sqrt(1 - (3.05 / half) ** 2) - 9.3 == pytest.approx(4.922, abs=5e-4)


def test_the_blanks_back_is_level_under_the_deepest_place() -> None:
    layout = laid()
    low = layout.back.depth(layout.heel.x_joint) + 2.0
    assert layout.step("run").face == pytest.approx(low, abs=1e-9)
    shaft = [z for x, z in layout.blank_profile if 5 < x < layout.heel.x_swell]
    assert shaft == pytest.approx([-low] * len(shaft), abs=1e-9)
    assert len(shaft) == 2


def test_depths_count_from_the_back_in_json() -> None:
    rows = {row["step"]: row for row in layout_json(laid())["channel"]}
    run, bore = rows["run"], rows["key-bore"]
    assert run["from"] == "back"
    assert run["floor_start"] == pytest.approx(-0.1, abs=1e-9)
    assert run["depth_start"] == pytest.approx(18.9648 - 0.1, abs=1e-4)
    assert bore["from"] == "end"
    assert layout_json(FRONT)["channel"][0]["from"] == "front"


def test_the_key_comes_through_a_bore_on_the_axis() -> None:
    bore = laid().step("key-bore")
    assert bore.width == pytest.approx(5.53, abs=1e-9)  # 4 mm key: 4.53 across its corners, 0.5 all round
    assert (bore.depth_at(0.0) + bore.top_at(0.0)) / 2 == pytest.approx(4.3, abs=1e-9)
    assert (bore.x_start, bore.x_end) == (-6.0, 6.0)


def test_a_head_that_the_bore_does_not_clear_is_refused() -> None:
    said = refused("head.drop=7")
    assert "head.drop" in said
    assert "7.07" in said  # 4.3 deep, 5.53 / 2 below that


def test_an_l_key_must_rise_outside_the_wood() -> None:
    key = ("adjusting_key.kind=L-key", "adjusting_key.short_arm=14", "adjusting_key.long_arm=70")
    said = refused(*key, "adjusting_key.arm_in_socket=short")
    assert "adjusting_key.short_arm" in said
    # from 7 mm past the head line at -6: 13 + 4 engaged + 4.53 across the corners + 0.5
    assert "at least 22.03 mm" in said
    assert laid(*key, "adjusting_key.arm_in_socket=long").step("key-bore").width == pytest.approx(5.53)


@pytest.mark.parametrize(
    ("overrides", "key"),
    [
        (("rod.cover_strip={thickness = 3.0, wood = \"maple\"}",), "rod.cover_strip"),
        (("bars={count = 2, width = 4, height = 8, length = 300, from_nut = 8, offset = 9}",), "channel.cut_from"),
        (("channel.back_strip.width=7",), "channel.back_strip.width"),
        (("rod.adjuster.diameter=9", "rod.adjuster.axis_below_top=4.2"), "rod.adjuster.diameter"),
    ],
)  # fmt: skip
def test_what_does_not_go_with_it_is_refused(overrides: tuple[str, ...], key: str) -> None:
    assert key in refused(*overrides)


def test_the_strip_must_be_stated() -> None:
    with pytest.raises(DesignError, match="back_strip: is missing"):
        read(path_of("redpoll"), BEHIND[:1])
    with pytest.raises(DesignError, match="cut from the front"):
        read(path_of("redpoll"), BEHIND[1:])


def test_a_wider_strip_lies_in_a_groove_down_to_the_rod() -> None:
    strip = laid("channel.back_strip.width=12").back_strip
    assert strip is not None
    assert strip.groove is not None
    assert strip.groove.top == pytest.approx(9.3, abs=1e-9)
    assert strip.width == 12.0


def test_a_floor_measured_too_shallow_lowers_the_rod() -> None:
    depth = laid().step("run").from_face.depth
    cut = laid(f"measured.channel.run.depth={depth - 0.4}")
    assert cut.rod is not None
    assert cut.rod.below == pytest.approx(0.5, abs=1e-6)
    assert cut.step("run").top == pytest.approx(0.5, abs=1e-6)
    assert cut.step("run").depth == pytest.approx(9.7, abs=1e-6)
    assert cut.back_strip is not None
    assert laid().back_strip is not None
    assert cut.back_strip.over < 4.6  # 0.4 mm less, and a little more at the corner


def test_a_floor_measured_too_deep_leaves_the_rod_where_it_is() -> None:
    depth = laid().step("run").from_face.depth
    cut = laid(f"measured.channel.run.depth={depth + 0.4}")
    assert cut.rod is not None
    assert cut.rod.below == pytest.approx(0.1, abs=1e-9)
    assert over_channel(cut.steps, cut.fretboard).wall == pytest.approx(3.4, abs=1e-6)


def test_head_and_heel_stand_above_the_level_back() -> None:
    layout = laid()
    face = layout.step("run").face
    assert proud_of_back(layout.blank_profile, face, -60.0, 100.0) == pytest.approx(24.0 - face, abs=1e-9)
    assert proud_of_back(layout.blank_profile, face, 20.0, 300.0) == pytest.approx(0.0, abs=1e-9)
    cutting = layout.cutting("run")
    assert cutting is not None
    assert cutting.reach == pytest.approx(18.8648 + 8.0 + 24.0 - face, abs=1e-3)


def test_tolerances_count_the_wood_over_and_behind() -> None:
    checks = {sure.check: sure for sure in vary_tolerance(laid(), 2000).checks}
    assert checks["wall/top"].value == pytest.approx(3.8, abs=5e-4)
    assert checks["wall/top"].worst == pytest.approx(3.8 - 0.15 - 0.1 - 0.1, abs=5e-4)
    assert checks["cover/back-strip"].value == pytest.approx(4.895, abs=5e-4)
    assert "glue/nut" not in checks
    assert "cover/run" not in checks


def test_places_stay_what_they_were() -> None:
    bounds: tuple[Bound, ...] = laid().rod.lower  # type: ignore[union-attr]
    assert bounds == FRONT.rod.lower  # type: ignore[union-attr]


def test_the_sample_reads_without_a_cover_strip() -> None:
    assert bent().rod is not None
    with pytest.raises(DesignError, match=r"rod\.cover_strip"):
        read_text(GADWALL, "gadwall.toml", ('rod.cover_strip={thickness = 3.0, wood = "maple"}',))


def test_limits_that_only_a_channel_from_the_back_has_are_idle_without_one() -> None:
    said = remarks(read(path_of("redpoll"), ("limits.cover_back_strip=2.5",)))
    assert "limits.cover_back_strip has no effect: the channel is cut from the front" in said
    design = read(path_of("redpoll"), (*BEHIND, "limits.cover_back_strip=2.5"))
    assert not any("has no effect" in one for one in remarks(design))


def test_a_washer_that_would_reach_into_the_fretboard_is_refused_by_its_own_size() -> None:
    with pytest.raises(DesignError, match=r"rod\.washer\.diameter"):
        laid_bent("rod.washer.diameter=11.5")
