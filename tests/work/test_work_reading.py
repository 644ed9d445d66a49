"""What an apprentice stumbles over who builds from the routing sheet alone: rows that contradict each other, cuts into
what is to stay, numbers that the next line refuses, steps and cautions left out."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from sheet_cases import INCHES, NAMES, layout_of
from work_cases import lines_of, place_of

from neckmodel import presets
from neckmodel.layout import Layout
from neckmodel.layout.channel.cutters import IN_STEPS
from neckmodel.layout.workshop.router import RouterSetting, level_steps, router_settings
from neckmodel.work.measures import step_measures
from neckmodel.work.order import Work, order_of_work
from neckmodel.work.settings import setting_rows

LEFT = 'design.hand="left"'


def titled(layout: Layout, start: str) -> Work:
    return next(work for work in order_of_work(layout) if work.title.startswith(start))


def rows_of(layout: Layout, step: str, unit: str = "mm") -> dict[str, str]:
    setting = next(setting for setting in router_settings(layout) if setting.step.name == step)
    return dict(setting_rows(layout, setting, unit))


def ramp_of(layout: Layout) -> RouterSetting:
    """The setting of wheatear's access slot, a ramp that no cutter of its rack reaches from rails."""
    return next(setting for setting in router_settings(layout) if setting.cutting.way == IN_STEPS)


@pytest.mark.parametrize(
    ("over", "fence", "guide"),
    [
        ((), "from the body toward the head", "from the head toward the body"),
        ((LEFT,), "from the head toward the body", "from the body toward the head"),
    ],
)
def test_fence_and_edge_guide_do_not_contradict_each_other(over: tuple[str, ...], fence: str, guide: str) -> None:
    """ "Any other way the cutter climbs: never feed it so" must leave room for the guide's row, which feeds the other
    way and begins on the other side."""
    layout = layout_of("redpoll", *over)
    says = " ".join(titled(layout, "Rout the channel").says)
    assert f"Along the fence feed {fence}, the fence on your left" in says
    assert (
        f"With an edge guide it is the other way round: feed {guide}, the guide on your right, and cut the bass "
        "side first" in says
    )
    assert says.index("With an edge guide it is") < says.index("Any other way the cutter climbs")
    slot = " ".join(titled(layout, "Rout the access slot").says)
    assert f"Feed along the fence {fence}, the fence on your left; with an edge guide {guide}, the guide" in slot
    rows = rows_of(layout, "adjuster")
    assert rows["lines"].startswith("2 lines: along the fence the treble side first")
    assert f"feed {guide}, the guide on your right, bass side first" in rows["or an edge guide"]


def test_level_steps_never_cut_below_the_slope() -> None:
    """The cutter's foremost edge stands where the slope is as deep as the pass, or where the slope is deeper; flipped
    end for end as well. Without stops of their own all passes went out past x -18.84, 5.85 deeper than the slope."""
    ramp = ramp_of(layout_of("wheatear"))
    flipped = replace(ramp, step=ramp.step.flipped(), first=-(ramp.last or 0.0), last=None)
    for setting in (ramp, flipped):
        passes = level_steps(setting)
        assert 0 < len(passes) < setting.cutting.passes  # the deepest finds no room: it would be a line
        for one in passes:
            ends = [end for end in (one.first, one.last) if end is not None]
            assert len(ends) == 2 or one.depth <= min(setting.step.depth_start, setting.step.depth_end)
            for k in range(21):
                low = setting.step.x_start if one.first is None else one.first - setting.cutter / 2
                high = setting.step.x_end if one.last is None else one.last + setting.cutter / 2
                assert one.depth <= setting.step.depth_at(low + (high - low) * k / 20) + 1e-6
    mirrored = [(-(a.last or 0.0), a.first) for a in level_steps(flipped) if a.last is not None]
    assert mirrored == [pytest.approx((a.first, -(a.last or 0.0))) for a in level_steps(ramp) if a.first is not None]


def test_the_stops_of_level_steps_are_told() -> None:
    """The floor falls from 3.20 at x -18.84 to 9.05 at 3.00. Of four passes the second, 4.53 deep, meets it where it is
    so deep; the base's edge, 75 from a cutter of 5, then meets its stop at that + 2.5 - 75."""
    layout = layout_of("wheatear")
    step, rows = ramp_of(layout).step, rows_of(layout, "access-slot")
    slope = (step.depth_end - step.depth_start) / (step.x_end - step.x_start)
    told = [float(x) for x in re.findall(r"deep at x (-?\d+\.\d\d) mm", rows["stop blocks"])]
    wanted = [step.x_start + (step.depth * k / 4 - step.depth_start) / slope + 2.5 - 75 for k in (2, 3)]
    assert told == pytest.approx(wanted, abs=0.006)
    assert "2.26 mm deep none (the cutter's middle goes past x -18.84 mm, into the wedge" in rows["stop blocks"]
    assert rows["passes"].startswith("steps of 2.26 mm: set 2.26 mm, 4.53 mm, 6.79 mm; pare the rest down")
    work = titled(layout, "Rout the access slot")
    assert "The cut runs on into the wedge on the head's face: clamp it tight" in work.says[0]
    assert any("Chisel:" in caution for caution in work.cautions)
    unstated = dict(setting_rows(layout, replace(ramp_of(layout), base=None), "mm"))
    middles = [float(x) for x in re.findall(r"cutter's middle at x (-?\d+\.\d\d) mm", unstated["stop blocks"])]
    assert middles[:2] == pytest.approx([x + 75 for x in wanted], abs=0.006)


def test_what_is_only_plunged_is_not_fed_and_a_sled_has_no_edge_guide() -> None:
    """wheatear's washer lies in a pocket as long as its cutter; its run is cut from rails that stand on both sides."""
    layout = layout_of("wheatear")
    washer, run = rows_of(layout, "washer"), rows_of(layout, "run")
    for row in ("or an edge guide", "with the guide bush", "feed along the fence"):
        assert "plunge" in washer[row]
        assert "feed from" not in washer[row]
        assert "clockwise" not in washer[row]
    assert run["or an edge guide"] == "not here: the sled's rails stand along that edge"
    assert run["sled"].startswith("rails beside the blank, in place of the strips")


@pytest.mark.parametrize("name", NAMES)
def test_no_depth_is_let_pass_at_which_the_next_step_fails(name: str) -> None:
    """A rod 9.2 high must not stand above the glue plane: then no run "9.15 to 9.45" deep may go on to its trial."""
    layout = layout_of(name)
    height = {bar.name: bar.height for bar in layout.bars}
    if layout.rod is not None and layout.rod.curve is None:
        runs = [step for step in layout.steps if step.name.startswith("run")]
        height |= {step.name: step.depth - layout.rod.below for step in runs}
    for step in (one for one in layout.steps if not one.bored):
        low = next(row.low for row in step_measures(layout, step) if row.key.endswith(".depth"))
        assert low is not None
        assert low >= height.get(step.name, 0.0) - 1e-9
        assert low < step.from_face.depth
    # cut too shallow already: the bounds stay those of what was cut, the checks tell the rest
    shallow = layout_of("redpoll", "measured.channel.run.depth=9.0")
    row = next(row for row in step_measures(shallow, shallow.step("run")) if row.key.endswith(".depth"))
    assert (row.low, row.high) == pytest.approx((8.85, 9.15))


def test_a_bar_is_tried_dry() -> None:
    """9.0 high in a channel 9.1 deep: without glue under it, 0.10 below; on half of that as glue, 0.05."""
    layout = layout_of("garganey")
    assert "dry, bar 1 and bar 2 lie 0.10 mm below the glue plane" in titled(layout, "Square the corners").checks
    assert "lie 0.05 mm under it" in " ".join(titled(layout, "Glue in bar 1").says)
    said = " ".join(titled(layout_of("pipit"), "Glue in bar 1").says)
    assert "Spread glue in the channel, press bar 1 down to the floor" in said


def test_only_the_end_that_is_slanted_is_called_so() -> None:
    """whimbrel's fretboard ends square across at 510; without `ends_at` its body end is parallel to the last fret."""
    layout = layout_of("whimbrel")
    assert "Its nut end is slanted" in titled(layout, "Make the fretboard").says[-1]
    assert "its slanted nut end crossing that line at the datum" in " ".join(titled(layout, "Glue on the fret").says)
    both = replace(layout, fretboard=replace(layout.fretboard, slope_end=0.1))
    assert "Its nut end and body end are slanted" in titled(both, "Make the fretboard").says[-1]
    assert not any("slanted" in line for line in lines_of(layout_of("redpoll")))


@pytest.mark.parametrize("name", ["wheatear", "pipit"])
def test_a_tenon_is_glued_in_after_it_was_tried_dry(name: str) -> None:
    layout = layout_of(name)
    fit = titled(layout, "Fit the neck to the body")
    lines = lines_of(layout)
    pared, glued = place_of(lines, "^Pare cheeks"), place_of(lines, "^When it fits dry, and not before, glue the tenon")
    assert pared is not None
    assert glued is not None
    assert pared < glued
    assert any("Glue:" in caution for caution in fit.cautions)
    assert "data sheet" in " ".join(fit.says)
    assert all(check.startswith("dry, before any glue: ") for check in fit.checks)
    # where pipit's glue plane lies over its body is stated nowhere
    assert ("the end of the fretboard, which lies on the body" in " ".join(fit.says)) is (name == "wheatear")
    assert place_of(lines_of(layout_of("redpoll")), "glue the tenon") is None


def test_where_the_head_piece_comes_from() -> None:
    """One cut parts the blank: the shaft's tip lies at -6 - 20/tan 14, its end 10 past 376.02. A piece 20 thick is
    `20/tan 14` shorter on one side; planed to 14.5 on that side its face has 180 - 20/sin 14 and 10 to spare."""
    says = titled(layout_of("wheatear"), "Glue on the head").says
    tan = math.tan(math.radians(14))
    under = 376.02 + 10 + 6 + 20 / tan
    assert f"parts the blank into shaft and head piece, the shaft {under:.2f} mm long on its under side" in says[0]
    longer = 180 - 20 / math.sin(math.radians(14)) + 14.5 / tan + 10
    assert says[1].startswith(
        f"Head piece, {longer:.2f} mm x 61.00 mm x 14.50 mm: the length is that of its longer side"
    )
    assert longer - 20 / tan < 180 - 20 / math.sin(math.radians(14)) < longer - 14.5 / tan
    assert "plane it down on its shorter side" in says[1]


def test_a_board_as_thick_as_the_blank_is_not_planed_away() -> None:
    """redpoll's board is stated as trued and 24 thick, as thick as step and head together."""
    said = " ".join(titled(layout_of("redpoll"), "True the blank").says)
    assert "stated as trued and 24.00 mm thick: take off only what has moved while it rested" in said
    assert "less than 24.00 mm stays, write what you find as board.thickness under [measured]" in said
    for over in ('board.surface="rough"', "board.thickness=26.0"):
        more = (over, "board.thickness=27.0") if "rough" in over else (over,)
        assert "stated as trued" not in " ".join(titled(layout_of("redpoll", *more), "True the blank").says)


@pytest.mark.parametrize("name", NAMES)
def test_saws_and_drills_make_dust_and_drills_catch_hair(name: str) -> None:
    """Common practice, no source."""
    for work in order_of_work(layout_of(name)):
        cautions = " ".join(work.cautions)
        if "Saw:" in cautions or "Drill:" in cautions:
            assert "Dust:" in cautions, work.title
        if work.title == "Drill":
            assert "no gloves, loose sleeves or hair near the drill" in cautions


def test_the_first_turn_of_a_rod() -> None:
    """Only where the relief is off, and which way is told as far as it is known."""
    two_way, one_way = (titled(layout_of(name), "String up").says[-1] for name in ("redpoll", "wheatear"))
    assert two_way.startswith("Where it is more or less, slacken the strings")
    assert "data sheet says which way takes relief away" in two_way
    assert "turned in, it can take relief away" in one_way


def test_planing_the_glue_plane_takes_from_the_heel_too() -> None:
    assert "the channel shallower and the heel less deep" in " ".join(titled(layout_of("redpoll"), "Let it rest").says)


def test_no_range_in_inches_is_lost_in_its_fractions() -> None:
    """ "0.744 in (3/4) to 0.752 in (3/4)" names one fraction for both bounds; a fret slot of 0.024 in is no 1/32."""
    layout = layout_of(INCHES)
    lines = lines_of(layout)
    for setting in router_settings(layout):
        rows = setting_rows(layout, setting, "in")
        lines += [says for _, says in rows]
        assert not any("mm" in says for _, says in rows)
    assert [line for line in lines if re.search(r"(\([\d /]+\)) to \S+ in \1", line)] == []
    assert place_of(lines, r"the fret slots 0\.\d+ in wide and 0\.\d+ in deep") is not None
    assert place_of(lines, r"width 0\.\d+ in to 0\.\d+ in, depth 0\.\d+ in to") is not None
    assert place_of(lines, r"\d in² in plan") is not None


def test_sheets_drawn_for_machines_alone_are_to_be_had_on_paper() -> None:
    paper = {name: layout_of(name).design.design.units for name in (*presets.names(), INCHES)}
    for name, unit in paper.items():
        text = "\n".join(lines_of(layout_of(name)))
        for sheet in ("fretboard",) if layout_of(name).head.is_none else ("head", "fretboard"):
            assert f"{sheet} sheet (on paper: --sheet {sheet} --paper {'Letter' if unit == 'in' else 'A4'})" in text
