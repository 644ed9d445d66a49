"""An oracle that shares nothing with the package holds its walls, places and cover, over the whole range of necks.

The oracle's own values are held against ones worked out by hand first. An ordinary run takes forty designs, three
of them with solids; the marker `sweep` takes a hundred with solids, `sweep.py` beside this file all 2,000, by number.
"""

from __future__ import annotations

import collections

import generator
import pytest
import sweep
from oracle_compare import findings_differ, layout_differs
from oracle_neck import Cut, Neck, heel_wall, shaft_wall, walls
from oracle_rod import Shop, cuts, rod_interval

from neckmodel.checks import check
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.solids import build

ORDINARY = range(40)
WITH_SOLIDS = (6, 11, 14)  # tenon, left-handed, one-way; through, two scales, rod and bar, inches; bolted, bars only

# rods turned through the soundhole: every kind of key; straight and bent rods; both units; none and some braces
THROUGH_SOUNDHOLE = (20, 70, 121, 178, 184, 199, 311, 317)
SOUNDHOLE_SOLIDS = (178,)  # a ball end, its adjuster beyond the tenon, inches

# a first string that starts later than the nut: both hands, inches, pegs from the side and from the back, grooves
LATER = (7, 25, 56, 57, 75, 95, 116, 173, 257)
LATER_SOLIDS = (7,)

PRINTED = {
    "strings": {"courses": 6, "scale": 640.0, "spacing_at_nut": 36.0, "spacing_at_bridge": 52.0},
    "fretboard": {
        "frets": 22,
        "past_last_fret": 8.0,
        "thickness": 6.0,
        "edge_margin": {"nut": 3.5, "last_fret": 4.0},
    },
    "neck": {"joint_fret": 16, "thickness": {"fret_1": 21.0, "fret_12": 23.0}, "back": "C"},
    "heel": {"kind": "bolted", "wood_ends_at": 468.406, "depth": 19.0, "swell_from": 30.0},
    "rod": {
        "kind": "two-way",
        "adjuster_at": "head",
        "length": 420.0,
        "width": 6.0,
        "height": 9.2,
        "adjuster": {"diameter": 7.0, "length": 10.0, "axis_below_top": 4.2},
    },
    "adjusting_key": {"kind": "L-key", "size": 4.0, "long_arm": 70.0, "arm_in_socket": "long", "engaged_depth": 4.0},
    "channel": {"key_clearance": 1.0},
}


@pytest.mark.parametrize(
    ("family", "least"), [("V", 3.005), ("soft-V", 3.620), ("C", 3.832), ("D", 3.964), ("U", 3.996)]
)
def test_the_oracle_finds_the_printed_least_walls(family: str, least: float) -> None:
    """a 21.5, b 15, a channel 6 x 11, worked out by hand beforehand for each family of back."""
    table = {**PRINTED, "neck": {"joint_fret": 16, "thickness": {"fret_1": 21.0, "fret_12": 21.0}, "back": family}}
    table["fretboard"] = {**PRINTED["fretboard"], "edge_margin": {"nut": 3.5, "last_fret": 3.5}}
    neck = Neck(table)
    assert neck.half(0.0) == 21.5
    assert shaft_wall(neck, Cut("run", 0.0, 1.0, 0.0, 6.0, (11.0, 11.0, 11.0)), 0.0) == pytest.approx(least, abs=6e-4)
    assert shaft_wall(neck, Cut("run", 0.0, 1.0, 0.0, 6.0, (16.0, 16.0, 16.0)), 0.0) < -1.0  # its corners stand out


@pytest.mark.parametrize(
    ("length", "low", "high"), [(360.0, 41.016, 55.470), (420.0, 4.0, 41.406), (470.0, 4.0, -8.594)]
)
def test_the_oracle_finds_the_printed_places(length: float, low: float, high: float) -> None:
    """L 640, joint 16, wood to 468.406; a key of 4 with an arm of 70: worked out by hand beforehand."""
    found = rod_interval(Shop({**PRINTED, "rod": {**PRINTED["rod"], "length": length}}))
    assert found == pytest.approx((low, high), abs=6e-4)


def test_the_oracle_sees_the_least_wall_where_a_floor_is_deepest() -> None:
    """A floor of 9 at both ends and 12 half way under a back 15 deep all along: 3 straight down at the middle."""
    table = {**PRINTED, "neck": {"joint_fret": 16, "thickness": {"fret_1": 21.0, "fret_12": 21.0}, "back": "U"}}
    found = walls(Neck(table), Cut("run", 4.0, 364.0, 0.0, 0.2, (9.0, 12.0, 9.0)))
    assert (found.least, found.x) == pytest.approx((3.0, 184.0), abs=1e-3)
    assert heel_wall(Neck(table), Cut("run", 390.0, 400.0, 0.0, 6.0, (9.0, 9.0, 9.0)), 395.0) == 10.0


@pytest.fixture(scope="module")
def layouts(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Layout | DesignError]:
    found: dict[int, Layout | DesignError] = {}
    for seed in ORDINARY:
        try:
            found[seed] = lay_out(generator.design_of(generator.tables(seed), tmp_path_factory.mktemp("sample")))
        except DesignError as error:
            found[seed] = error
    return found


def test_most_of_the_sample_is_built_and_the_rest_refused_by_key(layouts: dict[int, Layout | DesignError]) -> None:
    refused = [error for error in layouts.values() if isinstance(error, DesignError)]
    assert all(problem.key and problem.says for error in refused for problem in error.problems)
    assert len(refused) < len(layouts) / 3


def test_the_sample_crosses_every_kind(layouts: dict[int, Layout | DesignError]) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for layout in (each for each in layouts.values() if isinstance(each, Layout)):
        design = layout.design
        seen.update([layout.head.kind, layout.heel.kind, design.design.hand, design.design.units])
        seen.update(bar.name for bar in layout.bars)
        seen.update(piece.name for piece in layout.pieces)
        if layout.rod is not None:
            seen.update([layout.rod.kind, "heel adjuster" if layout.rod.at_heel else "head adjuster"])
        if design.adjusting_key is not None:
            seen.update([design.adjusting_key.kind])
        flags = {
            "paired": design.strings.paired,
            "two scales": not design.strings.scale.single,
            "zero fret": design.fretboard.zero_fret,
            "volute": layout.head.volute is not None,
            "drawn outline": layout.head.contour is not None,
            "square end": design.fretboard.ends_at is not None,
            "groove": design.nut.seat == "groove",
            "no rod, no bar": design.neck.reinforcement == "none",
            "plain": design.fretboard.fretless == "plain",
            "lined": design.fretboard.fretless == "lined",
            "bar up": design.rod is not None and design.rod.bar == "up",
            "bar down": design.rod is not None and design.rod.bar == "down",
        }
        seen.update(name for name, is_so in flags.items() if is_so)
    wanted = [
        "stepped",
        "angled",
        "scarfed",
        "bolted",
        "tenon",
        "through",
        "left",
        "right",
        "mm",
        "in",
        "two-way",
        "one-way",
        "compression",
        "bar-1",
        "bar-2",
        "head-piece",
        "heel-block-1",
        "straight",
        "L-key",
        "ball-end",
        "bar",
        "paired",
        "volute",
        "groove",
    ]
    wanted += ["no rod, no bar", "plain", "lined", "bar up", "bar down"]
    wanted += ["heel adjuster", "head adjuster", "two scales", "zero fret", "drawn outline", "square end"]
    assert [name for name in wanted if not seen[name]] == []


def test_every_kind_of_bound_binds_in_the_sample(layouts: dict[int, Layout | DesignError]) -> None:
    rods = [each.rod for each in layouts.values() if isinstance(each, Layout) and each.rod is not None]
    tightest = {min(rod.upper, key=lambda bound: bound.x).reason for rod in rods}
    tightest |= {max(rod.lower, key=lambda bound: bound.x).reason for rod in rods}
    wood = {"the wood's end", "a body cut-out", "the anchor past the joint", "the adjuster's block past the joint"}
    assert tightest == wood | {"the gap from the nut", "the key's arm", "the fretboard's end", "fret 1"}
    assert any(rod.x_wheel > rod.x_min for rod in rods)
    assert any(rod.fitting_from > rod.fitting_to for rod in rods)


@pytest.mark.parametrize("seed", ORDINARY)
def test_layout_agrees(seed: int, layouts: dict[int, Layout | DesignError]) -> None:
    layout = layouts[seed]
    if isinstance(layout, Layout):
        assert layout_differs(generator.tables(seed), layout) == []


@pytest.mark.parametrize(("seed", "seen"), [(4, "x_adjuster_max"), (9, "wheel clear"), (9, "are said to fit")])
def test_a_difference_of_places_is_seen(seed: int, seen: str, layouts: dict[int, Layout | DesignError]) -> None:
    """A fretboard 3 mm longer, told to the oracle only: at the head it covers more, at the heel a wheel clears it
    later."""
    layout = layouts[seed]
    assert isinstance(layout, Layout)
    board = generator.tables(seed)["fretboard"]
    key = "ends_at" if "ends_at" in board else "past_last_fret"
    longer = {**generator.tables(seed), "fretboard": {**board, key: board[key] + 3.0}}
    assert any(seen in said for said in layout_differs(longer, layout))


def test_a_difference_is_seen(layouts: dict[int, Layout | DesignError]) -> None:
    """A rod half a millimetre higher, told to the oracle only, shows in its depth, and in its wall."""
    layout = layouts[WITH_SOLIDS[0]]
    assert isinstance(layout, Layout)
    tables = generator.tables(WITH_SOLIDS[0])
    tables["rod"]["height"] += 0.5
    said = " ".join(layout_differs(tables, layout))
    assert "run depth" in said
    assert "wall of the run" in said
    assert max(cut.floor[0] for cut in cuts(Shop(tables), 0.0) if cut.name == "run") > layout.step("run").depth


def test_a_difference_of_a_kind_is_seen(layouts: dict[int, Layout | DesignError]) -> None:
    """Frets where there are none, told to the oracle only, show in strings' heights, side marks and slots."""
    seed, layout = next(
        (seed, found)
        for seed, found in layouts.items()
        if isinstance(found, Layout) and found.design.fretboard.fretless == "plain"
    )
    fretted = generator.tables(seed)
    del fretted["fretboard"]["fretless"]
    said = " ".join(layout_differs(fretted, layout))
    for word in ("height of string 1", "side marks", "fret slots"):
        assert word in said


@pytest.fixture(scope="module")
def ways(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Layout]:
    folder = tmp_path_factory.mktemp("ways")
    return {seed: lay_out(generator.design_of(generator.tables(seed), folder)) for seed in THROUGH_SOUNDHOLE}


def test_the_sample_s_soundhole_rods_are_of_every_kind(ways: dict[int, Layout]) -> None:
    keys = {layout.design.adjusting_key.kind for layout in ways.values() if layout.design.adjusting_key is not None}
    assert keys == {"straight", "ball-end", "L-key"}
    assert {layout.rod.kind for layout in ways.values() if layout.rod is not None} >= {"two-way", "compression"}
    found = [layout.soundhole_way for layout in ways.values()]
    assert all(way is not None for way in found)
    assert {len(way.bores) for way in found if way is not None} == {1, 2}
    assert {bool(way.braces) for way in found if way is not None} == {True, False}


@pytest.mark.parametrize("seed", THROUGH_SOUNDHOLE)
def test_the_way_from_the_soundhole_agrees(seed: int, ways: dict[int, Layout]) -> None:
    assert layout_differs(generator.tables(seed), ways[seed]) == []


def test_a_difference_of_the_way_is_seen(ways: dict[int, Layout]) -> None:
    """A top half a millimetre thicker, told to the oracle only, shows in the room under it and over every brace."""
    tables = generator.tables(178)
    tables["body"]["top_thickness"] += 0.5
    said = " ".join(layout_differs(tables, ways[178]))
    assert "the way's top" in said
    assert "the way's over 1" in said


@pytest.mark.parametrize("seed", SOUNDHOLE_SOLIDS)
def test_solids_of_a_soundhole_rod_agree(seed: int, ways: dict[int, Layout]) -> None:
    findings = check(build(ways[seed]))
    assert {"access/reach", "access/top", "access/brace", "access/swing"} <= {f.check for f in findings.findings}
    assert findings_differ(generator.tables(seed), ways[seed], findings) == []


@pytest.fixture(scope="module")
def later(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Layout]:
    folder = tmp_path_factory.mktemp("later")
    return {seed: lay_out(generator.design_of(generator.tables(seed), folder)) for seed in LATER}


@pytest.mark.parametrize("seed", LATER)
def test_a_string_that_starts_later_agrees(seed: int, later: dict[int, Layout]) -> None:
    assert later[seed].fretboard.later is not None
    assert layout_differs(generator.tables(seed), later[seed]) == []


def test_a_difference_beside_a_later_string_is_seen(later: dict[int, Layout]) -> None:
    """A string that starts one fret later, and a step there, told to the oracle only."""
    tables = generator.tables(7)
    tables["fretboard"].pop("step_at_fret", None)
    tables["strings"]["each"][0]["starts_at_fret"] += 1
    said = " ".join(layout_differs(tables, later[7]))
    assert "the first string starts at" in said
    assert "bass edge at" in said


@pytest.mark.parametrize("seed", LATER_SOLIDS)
def test_solids_beside_a_later_string_agree(seed: int, later: dict[int, Layout]) -> None:
    findings = check(build(later[seed]))
    assert all(fact.valid and fact.watertight and fact.solids == 1 for fact in findings.parts)
    assert findings_differ(generator.tables(seed), later[seed], findings) == []


@pytest.mark.parametrize("seed", WITH_SOLIDS)
def test_solids_agree(seed: int, layouts: dict[int, Layout | DesignError]) -> None:
    layout = layouts[seed]
    assert isinstance(layout, Layout)
    findings = check(build(layout))
    assert all(fact.valid and fact.watertight and fact.solids == 1 for fact in findings.parts)
    assert findings_differ(generator.tables(seed), layout, findings) == []


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(40, 140))
def test_a_hundred_solids_agree(seed: int) -> None:
    told = sweep.one((seed, True), {})
    assert told["what"] in ("built", "refused"), told["why"]
