"""A string that starts later than the nut: where it starts, the narrower side beside it, its peg, its pull; what is
refused. Numbers worked out by hand from: scale 670, fret 5, five strings with even centres, 38 apart at the nut as if
all ran to it and 50 at the bridge, margin 3.5, a G4 of 0.3975 g/m. No CAD kernel."""

from __future__ import annotations

import math

import numpy as np
import pytest
from later_samples import PEG, RINGLET, SHORT, design, laid_out

from neckmodel.design import read_text
from neckmodel.errors import DesignError
from neckmodel.geometry.smooth import smoothstep
from neckmodel.layout import lay_out
from neckmodel.layout.hardware.peg import PegPlace, side_at, to_skin
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.neck.section import Opening, section_walls
from neckmodel.strength.sections.neck import back_outlines
from neckmodel.strength.strings.load import load_of
from neckmodel.strength.strings.pull import pull_of

X5 = 670 * (1 - 2 ** (-5 / 12))


# --- the string ------------------------------------------------------------------------------------------------------
def test_it_speaks_from_its_fret() -> None:
    short, *others = laid_out().frets.strings
    assert short.fret == 5
    assert short.x_nut == pytest.approx(168.067, abs=5e-4)
    assert 670 - short.x_nut == pytest.approx(501.933, abs=5e-4)
    assert short.y_nut == pytest.approx(-20.505, abs=5e-4)
    assert short.length == pytest.approx(math.hypot(501.933, 25 - 20.505), abs=1e-3)
    assert [line.x_nut for line in others] == [0.0] * 4
    assert [line.y_nut for line in others] == pytest.approx([-9.5, 0.0, 9.5, 19.0])


def test_its_pull_is_that_of_its_own_length() -> None:
    """T = 4 (L - x5)**2 f**2 mu, Mersenne's law, with G4 at 391.995 Hz."""
    assert pull_of(design().strings).each[0] == pytest.approx(61.55, abs=5e-3)
    by_hand = 4 * 0.501933**2 * 391.995**2 * 0.3975e-3
    assert by_hand == pytest.approx(61.55, abs=5e-3)


def test_it_lies_on_its_fret_and_meets_the_others_height_at_the_bridge() -> None:
    short, *others = laid_out().frets.strings
    assert short.z(X5) == pytest.approx(6.0 + 1.1)
    assert short.z(670.0) == pytest.approx(others[0].z(670.0))
    height_at_12 = short.z(335.0) - 7.1
    assert height_at_12 == pytest.approx((2 * 1.8 - 0.4) * (335 - X5) / (670 - X5))


def test_it_may_start_at_fret_12_or_beyond() -> None:
    """Where its start and fret 12 are one place its line is still a line: to the bridge."""
    for fret in (12, 14):
        layout = laid_out(f"{SHORT}.starts_at_fret={fret}")
        short, others = layout.frets.strings[0], layout.frets.strings[1:]
        assert short.z(short.x_nut) == pytest.approx(7.1)
        assert short.z(670.0) == pytest.approx(others[0].z(670.0))
        assert load_of(layout, pull_of(layout.design.strings)).later is not None


def test_it_pulls_on_the_neck_only_beyond_its_peg() -> None:
    """Without it the moment on the head side of the peg is the same; beyond it more."""
    layout = laid_out()
    pull = pull_of(layout.design.strings)
    load = load_of(layout, pull)
    x, neutral = np.array([100.0, 159.0, 161.0, 300.0]), np.full(4, -3.0)
    four = sum(
        force * (line.z(x) + line.diameter / 2 + 3.0)
        for force, line in zip(pull.each[1:], layout.frets.strings[1:], strict=True)
    )
    short = layout.frets.strings[0]
    five = four + pull.each[0] * (short.z(x) + short.diameter / 2 + 3.0)
    assert load.moment(x, neutral) == pytest.approx([four[0], four[1], five[2], five[3]], rel=1e-9)
    assert load.pull == pytest.approx(pull.total)
    bare = load_of(lay_out(read_text(RINGLET.replace(PEG, ""), "bare.toml")), pull)
    assert bare.later is not None
    assert bare.later.x_from == pytest.approx(X5)  # without a peg, from where it starts


def test_the_head_has_the_other_strings_only() -> None:
    layout = laid_out()
    assert [way.string for way in layout.head_ways] == [2, 3, 4, 5]
    assert [way.tuner for way in layout.head_ways] == ["tuner-1", "tuner-2", "tuner-4", "tuner-3"]
    data = layout_json(layout)
    assert data["strings"][0]["starts_at_fret"] == 5
    assert data["strings"][0]["along_nut"] is None
    assert data["strings"][1]["along_nut"] == pytest.approx(3.5)


# --- the narrower side -----------------------------------------------------------------------------------------------
def test_nut_and_fretboard_end_beside_the_next_string() -> None:
    board = laid_out().fretboard
    assert 2 * board.half_width(0.0) == pytest.approx(35.5)
    narrow = board.treble(X5) - (-20.505 + 9.5 + (12.5 - 9.5) * X5 / 670 - 3.5)
    assert narrow == pytest.approx(37.758, abs=5e-4)
    assert 2 * board.half_width(X5) == pytest.approx(48.010, abs=5e-4)
    assert 2 * laid_out().nut.half_width == pytest.approx(35.5)
    assert [y for _, y in laid_out().nut.corners] == pytest.approx([-13.0, -13.0, 22.5, 22.5])


def test_the_step_runs_by_a_smoothstep_over_its_length() -> None:
    board = laid_out().fretboard
    for share in (0.0, 0.3, 0.5, 0.8, 1.0):
        x = X5 - 12 + 12 * share
        wide, gap = -(22.5 + 6.0 * x / 670), 9.5 + 3.0 * x / 670
        assert board.bass(x) == pytest.approx(wide + gap * (1 - smoothstep(share)), abs=1e-9)
        assert board.treble(x) == pytest.approx(-wide)
    assert board.bass(300.0) == pytest.approx(-board.treble(300.0))
    early = laid_out("fretboard.step_at_fret=3", "fretboard.step_length=20", f"{SHORT}.peg.x=100").fretboard
    assert early.later is not None
    assert early.later.x_to == pytest.approx(670 * (1 - 2 ** (-3 / 12)))
    assert early.later.x_from == pytest.approx(early.later.x_to - 20)


def test_the_back_s_deepest_line_lies_midway_and_the_rod_on_the_centre_line() -> None:
    layout = laid_out()
    section = layout.back.section(0.0)
    y, z = min(section.points(4001).tolist(), key=lambda p: p[1])
    assert y == pytest.approx((22.5 - 13.0) / 2, abs=0.02)
    assert -z == pytest.approx(layout.back.depth(0.0))
    assert section.depth_at(-13.0) == pytest.approx(0.0, abs=1e-6)
    assert section.depth_at(22.5) == pytest.approx(0.0, abs=1e-6)
    assert all(step.y == 0.0 for step in layout.steps)
    assert layout.outside.middle(layout.head.x_swell) == 0.0
    run = next(wall for wall in layout.walls if wall.step == "run")
    own = min(
        float(section_walls([layout.back.section(float(x))], [Opening(-3.05, 3.05, 9.3)])[0])
        for x in np.linspace(layout.step("run").x_start, 156.0, 400)
    )
    assert run.wall == pytest.approx(own, abs=2e-3)  # its bass side is the nearer one before the step


def test_strength_counts_the_narrower_sections() -> None:
    """The area of the section by the layout's own law, and by the outline that strength integrates."""
    layout = laid_out()
    for x in (20.0, 150.0, 162.0, 200.0):
        ((points,),) = (back_outlines(layout.outside, [x]),)
        y, z = points[:, 0], points[:, 1]
        area = abs(float(np.sum(y[:-1] * z[1:] - y[1:] * z[:-1]) / 2))
        assert area == pytest.approx(layout.back.section(x).area(), rel=1e-3)
        assert (y.min() + y.max()) / 2 == pytest.approx(layout.back.middle(x), abs=1e-9)


def test_a_left_hand_is_the_mirror_image_and_inches_are_the_same() -> None:
    right, left = layout_json(laid_out()), layout_json(laid_out("design.hand=left"))
    assert left["strings"][0]["y_nut"] == pytest.approx(-right["strings"][0]["y_nut"])
    assert left["fretboard"]["step"][0]["y_bass"] == pytest.approx(-right["fretboard"]["step"][0]["y_bass"])
    assert left["fretboard"]["peg"]["mouth"]["y"] == pytest.approx(-right["fretboard"]["peg"]["mouth"]["y"])
    inch = laid_out(f"fretboard.step_length={12 / 25.4} in").fretboard.later
    assert inch is not None
    assert inch.x_from == pytest.approx(X5 - 12)


# --- the peg ---------------------------------------------------------------------------------------------------------
def test_walls_of_a_peg_in_a_side_at_19_5() -> None:
    """Its axis 7.5 below z = 0, its hole 8 across and 12 deep: 3.5 to the glue plane, and 4.45 from its flat end to a
    channel 6.1 wide."""
    peg = PegPlace((160.0, -19.5, -7.5), (160.0, -7.5, -7.5), 8.0, side=True)
    assert peg.to_glue_plane == pytest.approx(3.5)
    wall = np.array([[160.0, y, -5.0] for y in np.linspace(-3.05, 3.05, 5)])
    assert to_skin(peg, wall).min() == pytest.approx(4.45)
    rim = np.array([[160.0, -19.5, -7.5 - 4.0 - reach] for reach in (7.9, 8.1)])
    assert to_skin(peg, rim).tolist() == pytest.approx([math.inf, 8.1])


def test_the_mouth_lies_in_the_skin() -> None:
    """(7.5/b)**p + (u/a)**p = 1 of the back's law there."""
    layout, peg = laid_out(), laid_out().peg
    assert peg is not None
    section = layout.back.section(160.0)
    u = section.middle - peg.mouth[1]
    assert (7.5 / section.depth) ** 2.6 + (u / section.half_width) ** 2.6 == pytest.approx(1.0)
    assert peg.end[1] - peg.mouth[1] == pytest.approx(9.0)
    assert side_at(section, section.depth + 1) is None
    back = laid_out(f'{SHORT}.peg={{from="back", x=140.0, y=-6.0, hole=6.0, depth=9.0}}').peg
    assert back is not None
    deep = laid_out().back.section(140.0).depth_at(-6.0)
    assert (back.mouth[2], back.end[2]) == pytest.approx((-deep, 9.0 - deep))
    assert back.to_glue_plane == pytest.approx(deep - 9.0)


# --- beside other kinds ----------------------------------------------------------------------------------------------
def test_of_two_rods_the_one_on_the_narrower_side_has_less_wood() -> None:
    """9 mm to either side of the centre line: 13 - 9 on the bass side at the nut, 22.5 - 9 on the treble side."""
    walls = {wall.step: wall.wall for wall in laid_out("rod.count=2", "rod.offset=9").walls}
    assert walls["run-1"] < 0 < walls["run-2"]
    assert walls["run-2"] - walls["run-1"] > 5


@pytest.mark.parametrize(
    "over",
    [
        ("channel.cut_from=back", "channel.back_strip={wood='walnut'}"),
        ("fretboard.zero_fret=true",),
        ("nut.seat=groove",),
        ("board={length=720, thickness=30, strips=[{width=34, wood='maple'}, {width=34, wood='walnut'}]}",),
        ("heel.kind=dovetail", "heel.depth=60", "heel.tenon={length=20, width=40, depth=45}"),
    ],
    ids=["behind", "zero-fret", "groove", "strips", "dovetail"],
)
def test_beside_other_kinds_the_sides_are_the_same(over: tuple[str, ...]) -> None:
    """Nut, zero fret, board and heel move no edge; the walls to the sides stay."""
    plain, other = laid_out(), laid_out(*over)
    for x in (0.0, 100.0, 160.0, 300.0):
        assert other.fretboard.bass(x) == pytest.approx(plain.fretboard.bass(x))
        assert other.outside.middle(x) == pytest.approx(plain.outside.middle(x))
    walls = [{wall.step: wall.wall for wall in layout.walls} for layout in (plain, other)]
    assert walls[0]["run"] == pytest.approx(walls[1]["run"], abs=0.05)
    assert min(y for _, y in other.nut.corners) == pytest.approx(other.fretboard.bass(other.nut.x_end), abs=0.05)


# --- what is refused -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("over", "key", "says"),
    [
        ((f"{SHORT}.starts_at_fret=1",), "strings.each[0].starts_at_fret", "allowed are 2 to 17"),
        ((f"{SHORT}.starts_at_fret=18",), "strings.each[0].starts_at_fret", "allowed are 2 to 17"),
        (("strings.each.1.starts_at_fret=5",), "strings.each[1].starts_at_fret", "another string than the first"),
        (
            ("strings.scale={bass=670, treble=650, square_fret=5}",),
            "strings.each[0].starts_at_fret",
            "one scale length",
        ),
        (("fretboard.fretless=plain",), "strings.each[0].starts_at_fret", "no fret for it to start at"),
        (("fretboard.width={nut=45, end=58}",), "fretboard.width", "state edge_margin"),
        (("fretboard.step_at_fret=6",), "fretboard.step_at_fret", "lies beyond fret 5"),
        (("fretboard.step_at_fret=1", "fretboard.step_length=40"), "fretboard.step_length", "reaches past the nut"),
        ((f"{SHORT}.peg.x=170",), "strings.each[0].peg.x", "where the string starts"),
        ((f"{SHORT}.peg.y=-12",), "strings.each[0].peg.y", "is stated of a peg from the side"),
        ((f"{SHORT}.peg.from=back",), "strings.each[0].peg.y", "a peg from the back needs it"),
        ((f"{SHORT}.peg.below=3.5",), "strings.each[0].peg.below", "out through the glue plane"),
        ((f"{SHORT}.peg.below=30",), "strings.each[0].peg.below", "lies below the back"),
        (("strings.each.1.peg={from='side', x=50, below=7, hole=8, depth=12}",), "strings.each[1].peg", "head.tuners"),
    ],
)
def test_what_makes_no_sense_is_refused_with_its_key(over: tuple[str, ...], key: str, says: str) -> None:
    with pytest.raises(DesignError) as caught:
        laid_out(*over)
    told = str(caught.value)
    assert key in told
    assert says in told


def test_paired_courses_have_no_short_string() -> None:
    text = RINGLET.replace("courses = 5", "courses = 5\npaired = true\npair_gap = 2.0")
    with pytest.raises(DesignError, match="a string that starts later stands alone"):
        read_text(text, "paired.toml")


def test_a_step_without_such_a_string_is_refused_and_other_designs_keep_their_hash() -> None:
    plain = RINGLET.replace(", starts_at_fret = 5" + PEG, "")
    with pytest.raises(DesignError, match="no string starts later than the nut"):
        read_text(plain, "plain.toml", ("fretboard.step_at_fret=5",))
    bare = read_text(plain, "plain.toml")
    assert bare.sha256 == read_text(plain, "plain.toml", ("fretboard.step_length=12", "limits.wall.peg=3")).sha256
    assert laid_out().design.sha256 != read_text(plain, "plain.toml").sha256
