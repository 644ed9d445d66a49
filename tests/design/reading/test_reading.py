"""A design as a maker would write it: stated values, defaults, short forms, units, overrides."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.design import Channel, Design, HeadOutline, changed, read, read_text, remarks
from neckmodel.errors import DesignError

PRESETS = sorted((Path(__file__).parents[3] / "presets").glob("*.toml"))
SHORT = """
[design]
name = "wren"
[strings]
courses = 6
scale = 640.0
[fretboard]
[neck]
joint_fret = 16
[rod]
kind = "two-way"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
"""


def short(*settings: str) -> Design:
    return read_text(SHORT, "wren.toml", settings)


@pytest.mark.parametrize("path", PRESETS, ids=lambda path: path.stem)
def test_presets_read_without_a_needless_remark(path: Path) -> None:
    design = read(path)
    assert design.name == path.stem
    # glued with a short tenon, there is no room past the joint for more
    short = {"pipit": 8, "wheatear": 5}.get(path.stem)
    said = [f"rod_place.past_joint = {short} lies outside the usual 10 to 30 (common practice, no published source)"]
    assert remarks(design) == (said if short else [])


def test_defaults_of_common_practice() -> None:
    """Common practice, no source: 42.5 wide at the nut less two margins of 3.5, and so on."""
    design = short()
    assert design.strings.spacing_at_nut == 35.5
    assert design.strings.spacing_at_bridge == 52.0
    assert (design.fretboard.edge_margin.nut, design.fretboard.edge_margin.last_fret) == (3.5, 4.0)
    assert (design.fretboard.frets, design.fretboard.past_last_fret, design.fretboard.ends_at) == (22, 8.0, None)
    assert (design.neck.thickness.fret_1, design.neck.thickness.fret_12) == (20.5, 22.5)
    assert (design.neck.back.fret_1.family, design.neck.back.fret_1.fullness) == ("C", 2.0)
    assert (design.heel.kind, design.heel.wood_ends_at, design.heel.width, design.heel.depth) == (
        "bolted",
        None,
        None,
        19,
    )
    assert (design.head.kind, design.head.starts_at, design.head.drop) == ("stepped", -6.0, 9.0)
    assert design.head.outline == HeadOutline(near=46.5, far=56.5)
    assert design.rod is not None
    assert (design.rod.anchor.length, design.rod.anchor.width, design.rod.anchor.height) == (0.0, 6.0, 9.2)
    assert design.rod.adjuster.travel == 0.0
    assert (design.rod_place.from_nut, design.rod_place.past_joint) == (5.0, 15.0)
    assert (design.channel.wider_by, design.channel.ends, design.channel.key_swing) == (0.1, "squared", 75.0)
    assert (design.body.thickness, design.body.under_pocket, design.body.top) == (45.0, 29.0, -3.0)
    assert (design.limits.wall.run, design.limits.glue_nut, design.limits.cover_run) == (3.0, 4.0, 2.0)
    assert design.workshop.printer.bed == (210.0, 200.0, 190.0)
    assert (design.bars, design.board, design.adjusting_key) == (None, None, None)
    assert (design.allowance.sides, design.allowance.ends, design.allowance.back) == (2.5, 10.0, 2.0)


@pytest.mark.parametrize(
    ("settings", "nut_width", "at_bridge"),
    [
        ((), 42.5, 52),
        (
            (
                "heel.kind=bolted",
                'strings.each=[{diameter=0.7,material="nylon"},' + '{diameter=0.7,material="nylon"},' * 5 + "]",
            ),
            52,
            58,
        ),
        (("strings.courses=7",), 49, 63),
        (("strings.courses=4", "strings.scale=776"), 40, 57),
        (("strings.courses=5", "strings.scale=852"), 46, 70),
        (("strings.courses=4", "strings.scale=352", "fretboard.frets=20", "neck.joint_fret=12"), 29, 40),
    ],
)
def test_each_kind_of_instrument_has_its_usual_widths(
    settings: tuple[str, ...], nut_width: float, at_bridge: float
) -> None:
    """Common practice, no source."""
    design = short(*settings)
    assert design.strings.spacing_at_nut + 2 * design.fretboard.edge_margin.nut == pytest.approx(nut_width, abs=1e-9)
    assert design.strings.spacing_at_bridge == at_bridge


def test_defaults_follow_what_is_stated() -> None:
    assert short("nut.thickness=6").head.starts_at == -7.0
    assert short("fretboard.edge_margin=4.0").head.outline == HeadOutline(near=46.5, far=56.5)
    assert short("strings.spacing_at_nut=38").head.outline == HeadOutline(near=49.0, far=59.0)
    assert short("head.kind=angled").head.angle == 12.0
    assert short("strings.courses=4", "strings.scale=776").neck.thickness.fret_12 == 24.0
    assert short("heel.kind=through", "heel.wood_ends_at=600").heel.depth == 45.0
    assert short("body.under_pocket=30").heel.neck_pocket_depth == 15.0
    assert short("rod.anchor.length=12").rod.anchor.width == 6.0  # type: ignore[union-attr]
    assert short("limits.wall=3.5").limits.wall.washer == 3.5
    partly = short("limits.wall.run=2.8").limits.wall
    assert (partly.run, partly.anchor) == (2.8, 3.0)
    key = short("adjusting_key.kind=straight", "adjusting_key.length=190").adjusting_key
    assert key is not None
    assert (key.size, key.engaged_depth) == (4.0, 4.0)
    bars = short("bars.width=4", "bars.height=9", "bars.length=300").bars
    assert bars is not None
    assert (bars.count, bars.offset, bars.from_nut) == (2, 6.0 / 2 + 4.0 / 2 + 3.0, 5.0)


@pytest.mark.parametrize(("family", "p"), [("V", 1.35), ("soft-V", 1.7), ("C", 2.0), ("D", 2.6), ("U", 3.5)])
def test_every_family_has_its_fullness(family: str, p: float) -> None:
    """Common practice, no source."""
    assert short(f"neck.back={family}").neck.back.fret_12.fullness == p
    assert short(f'neck.back={{family="{family}", lean=1}}').neck.back.fret_1.fullness == p
    assert short(f"neck.back={family}", "neck.back.fullness=2.2").neck.back.fret_1.fullness == 2.2


def test_a_file_in_inches_reads_the_same() -> None:
    metric = short("strings.scale=647.7", "rod.length=419.1", "neck.thickness.fret_1=20.6375")
    inches = """
[design]
name = "wren"
units = "in"
[strings]
courses = 6
scale = 25.5
[fretboard]
[neck]
joint_fret = 16
thickness = {fret_1 = "13/16 in"}
[rod]
kind = "two-way"
length = 16.5
width = "6 mm"
height = "9.2 mm"
[rod.adjuster]
diameter = "7 mm"
length = "10 mm"
axis_below_top = "4.2 mm"
socket = {kind = "hex", size = "4 mm", depth = "5 mm"}
"""
    design = read_text(inches)
    assert design.model_copy(update={"design": metric.design}).sha256 == metric.sha256
    assert read_text(inches, "wren", ["rod_place.from_nut=0.25"]).rod_place.from_nut == 6.35


def test_the_hash_is_of_the_content_and_not_of_the_writing() -> None:
    again = SHORT.replace("scale = 640.0", 'scale = "64 cm"  # as before').replace(
        "[fretboard]", "[fretboard]\nfrets = 22"
    )
    assert read_text(again).sha256 == short().sha256
    assert len(short().sha256) == 64
    assert short("rod.length=420.01").sha256 != short().sha256


def test_what_is_stated_can_be_asked() -> None:
    design = short("rod_place.from_nut=auto")
    assert design.stated("rod.length")
    assert design.stated("rod_place.from_nut")
    assert not design.stated("rod_place.past_joint")
    assert not design.stated("head.outline.near")


def test_a_later_floor_can_point_at_a_value() -> None:
    design = short("rod_place.from_nut=7")
    stated = design.problem("rod.length", "is too long", "allowed is at most 400 mm", "try 400")
    assert str(stated) == "wren.toml:12: rod.length = 420.0: is too long; allowed is at most 400 mm; try 400"
    assert str(design.problem("rod_place.from_nut", "is odd")) == "--set: rod_place.from_nut = 7: is odd"
    assert str(design.problem("rod.anchor.width", "is odd")) == "wren.toml:10: rod.anchor.width = 6.0 (default): is odd"
    assert str(design.problem("channel.ends", "is odd")) == 'wren.toml: channel.ends = "squared" (default): is odd'


def test_overrides() -> None:
    design = short(
        "strings.scale=25.5 in",
        "fretboard.ends_at=475",
        "heel.screws=[{from_end=15, y=-17, diameter=4.5, length=45}, {from_end=15, y=17, diameter=4.5, length=45}]",
        "heel.screws.0.y=-18",
        "heel.screws[1].kind=dowel",
        "fretboard.radius=300",
        "fretboard.radius.end=400",
    )
    assert design.strings.scale.treble == 647.7
    assert (design.fretboard.ends_at, design.fretboard.past_last_fret) == (475.0, None)
    assert [(screw.y, screw.kind) for screw in design.heel.screws] == [(-18.0, "wood-screw"), (17.0, "dowel")]
    assert design.fretboard.radius is not None
    assert (design.fretboard.radius.nut, design.fretboard.radius.end) == (300.0, 400.0)
    mapped = read_text(SHORT, "wren.toml", {"rod.length": 410, "rod_place.from_nut": "auto"})
    assert mapped.rod is not None
    assert (mapped.rod.length, mapped.rod_place.from_nut) == (410.0, None)
    assert short().rod.length == 420.0, "overrides leave no trace behind"  # type: ignore[union-attr]


def test_remarks_name_what_is_unusual_and_what_has_no_effect() -> None:
    assert remarks(short()) == []
    assert remarks(short("fretboard.radius=150", "head.angle=12")) == [
        "head.angle has no effect: the head is stepped",
        "fretboard.radius.nut = 150 lies outside the usual 180 to 500 (common practice, no published source)",
        "fretboard.radius.end = 150 lies outside the usual 180 to 500 (common practice, no published source)",
    ]
    assert remarks(short("strings.spacing_at_nut=39")) == [
        "the width at the nut = 46 lies outside the usual 40 to 45 for a 6-string electric"
        " (common practice, no published source)"
    ]


def test_the_old_name_of_a_key_is_read_and_told_once() -> None:
    told = ["workshop.pass_depth is called deepest_pass now; the old name is still read"]
    old = SHORT + "[workshop]\npass_depth = 2.5\n"
    over = "workshop.pass_depth=2.5"
    for design in (read_text(old), short(over), read_text(old, "x", [over])):
        assert design.workshop.deepest_pass == 2.5
        assert design.stated("workshop.deepest_pass")
        assert remarks(design) == told
        assert design.sha256 == short("workshop.deepest_pass=2.5").sha256
    assert changed(read_text(old), {"workshop.deepest_pass": 4.0}).workshop.deepest_pass == 4.0
    with pytest.raises(DesignError, match=r"old.toml:17: workshop.pass_depth = 40: is too large") as caught:
        read_text(old.replace("2.5", "40"), "old.toml")
    assert "deepest" not in str(caught.value)
    with pytest.raises(
        DesignError, match=r"17: workshop.pass_depth = 2.5: is the old name of deepest_pass, .*keep one"
    ):
        read_text(old + "deepest_pass = 3\n")


def test_remarks_ask_where_two_sizes_were_probably_taken_for_each_other() -> None:
    (said,) = remarks(short("neck.thickness.fret_12=20"))
    assert said.startswith("neck.thickness.fret_12 is less than fret_1")
    assert said.endswith("are the two swapped?")
    (said,) = remarks(short("rod.width=9.2", "rod.height=6"))
    assert said.startswith("rod.width is more than rod.height")
    assert remarks(short("rod.kind=one-way", "rod.width=9.2", "rod.height=6")) == []


LENGTHS = {
    "rod.length": (100, 860),
    "neck.thickness.fret_1": (18, 25),
    "nut.thickness": (1.5, 12),
    "rod_place.past_joint": (0, 100),
}


@given(st.sampled_from(sorted(LENGTHS)), st.data())
def test_any_length_within_bounds_reads_as_itself_in_every_way_to_write_it(key: str, data: st.DataObject) -> None:
    size = round(data.draw(st.floats(*LENGTHS[key])), 3)
    bare, texts = short(f"{key}={size}"), short(f"{key}={size} mm")
    found: object = bare
    for part in key.split("."):
        found = getattr(found, part)
    assert found == size
    assert bare.sha256 == texts.sha256


@given(
    st.dictionaries(st.text(max_size=12), st.integers() | st.text(max_size=8) | st.floats() | st.booleans(), max_size=4)
)
def test_any_rubbish_in_a_section_is_refused_in_words(rubbish: dict[str, object]) -> None:
    if set(rubbish) <= set(Channel.model_fields):
        return
    with pytest.raises(DesignError) as caught:
        read_text(SHORT, "wren.toml", {"channel": rubbish})
    assert all(problem.place == "--set" for problem in caught.value.problems)
    assert str(caught.value).replace("\n", "").isprintable()


def test_importing_the_reader_loads_no_kernel() -> None:
    heavy = {"cadquery", "OCP", "trimesh", "scipy", "numpy"}
    code = f"import sys, neckmodel.design; print(sorted({heavy} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.strip() == "[]"
