"""A fretless fretboard, plain or lined: what is said of it, where strings and side marks lie, what is sawn."""

from __future__ import annotations

import math

import pytest
from kind_samples import FRETTED, KNOT, LINED, PLAIN, design, laid_out
from strength_samples import findings

from neckmodel.design import read
from neckmodel.design.explanation import about_key
from neckmodel.errors import DesignError
from neckmodel.layout.json.layout import layout_json
from neckmodel.presets import path_of
from neckmodel.strength.estimate import estimate
from neckmodel.strength.sections.neck import neck_sections

TEXTS = {"plain": PLAIN, "lined": LINED}


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
@pytest.mark.parametrize(("fret", "height"), [(0, 5.737), (12, 7.186), (math.inf, 8.636)])
def test_strings_stand_over_the_wood(text: str, fret: float, height: float) -> None:
    """The outer string's under side, worked out by hand: 6 less the crown's drop, 0.2 at the nut and 2.0 at fret 12,
    straight on to the bridge; to the digit printed."""
    line = laid_out(text).frets.strings[0]
    x = 852.0 if math.isinf(fret) else 852.0 * (1 - 2 ** (-fret / 12))
    assert (line.y_nut, round(line.y(426.0), 9), line.y_bridge) == (-18.0, -26.0, -34.0)
    assert round(line.z(x), 3) == height


def test_the_same_by_the_circle_itself() -> None:
    """A second route: the crown as a circle through its middle, its radius even along the cone."""
    line = laid_out(PLAIN).frets.strings[0]
    for x, y, over, got in ((0.0, 18.0, 0.2, line.z_nut), (426.0, 26.0, 2.0, line.z_12)):
        radius = 350.0 + (450.0 - 350.0) * x / 647.0
        assert got == pytest.approx(6.0 - radius * (1 - math.cos(math.asin(y / radius))) + over, abs=1e-12)


def test_heights_unless_stated() -> None:
    """Common practice, no source: of a bass."""
    for text in TEXTS.values():
        action = design(text).action
        assert (action.at_nut, action.at_12) == (0.2, 2.0)
    action = design(PLAIN, "action.at_12=2.5").action
    assert (action.at_nut, action.at_12) == (0.2, 2.5)
    assert (design(FRETTED).action.at_nut, design(FRETTED).action.at_12) == (0.5, 2.4)


def test_explain_tells_them() -> None:
    told = about_key("action.at_12")
    assert told is not None
    assert told.default.endswith("; with fretboard.fretless 2 mm")
    other = about_key("fretboard.frets")
    assert other is not None
    assert "fretless" not in other.default


def test_the_body_is_measured_to_the_wood() -> None:
    """Fretboard 6 over a body whose top lies 3 below the glue plane; a fret stands 1.1 higher."""
    assert [round(laid_out(text).action.over_body, 9) for text in (PLAIN, LINED, FRETTED)] == [9.0, 9.0, 10.1]


def test_what_is_sawn() -> None:
    plain, lined, fretted = (laid_out(text) for text in (PLAIN, LINED, FRETTED))
    assert plain.fretboard.slots == ()
    assert lined.fretboard.slots == fretted.fretboard.slots
    assert len(plain.frets.frets) == len(lined.frets.frets) == 24  # positions all the same
    assert plain.heel.x_joint == fretted.heel.x_joint
    told = [layout_json(layout)["fretboard"]["least_wood_below_slot"] for layout in (plain, lined, fretted)]
    assert told[0] is None
    assert told[1] == told[2] > 0


def test_a_plain_fretboard_counts_whole() -> None:
    """Its relief is that of the fretted one counted whole, and stiffer than the lined one's range in the middle."""
    plain, lined = (estimate(laid_out(text)) for text in (PLAIN, LINED))
    assert plain.relief_whole == plain.relief_below == pytest.approx(lined.relief_whole, rel=1e-9)
    assert lined.relief_below > 1.2 * lined.relief_whole
    assert plain.relief.likely < lined.relief.likely
    sections = neck_sections(laid_out(PLAIN), 0.0, 400.0)
    assert (sections.crown_below == sections.crown).all()
    assert "fretboard counted whole, for it has no fret slots" in plain.basis
    assert "fretboard counted whole and below its fret slots" in lined.basis


def test_side_marks() -> None:
    """On the positions of a plain fretboard, half way between the lines of a lined one (common practice)."""
    scale = 852.0
    at = [scale * (1 - 2 ** (-n / 12)) for n in range(25)]
    marked = [3, 5, 7, 9, 12, 15, 17, 19, 21, 24]
    plain, lined = laid_out(PLAIN).side_marks, laid_out(LINED).side_marks
    assert [mark.number for mark in plain] == [mark.number for mark in lined] == marked
    assert [mark.x for mark in plain] == pytest.approx([at[n] for n in marked], abs=1e-9)
    assert [mark.x for mark in lined] == pytest.approx([(at[n - 1] + at[n]) / 2 for n in marked], abs=1e-9)
    assert laid_out(FRETTED).side_marks == ()
    assert layout_json(laid_out(PLAIN))["fretboard"]["side_marks"][0] == {"n": 3, "x": round(at[3], 5)}
    assert "side_marks" not in layout_json(laid_out(FRETTED))["fretboard"]


def test_side_marks_of_slanted_positions_lie_on_the_edge() -> None:
    """With two scale lengths the mark stands where the line meets the bass-side edge."""
    layout = laid_out(PLAIN, "strings.scale.bass=852", "strings.scale.treble=820", "fretboard.ends_at=660")
    for mark in layout.side_marks:
        fret = layout.frets.frets[mark.number - 1]
        edge = -layout.fretboard.half_width(mark.x)
        assert mark.x == pytest.approx(fret.x_at(edge), abs=1e-9)


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        (
            "thickness = 6.0",
            "fret_height = 1.0",
            "sample.toml:22: fretboard.fret_height = 1.0: is stated beside fretless: no fret stands over the wood; "
            "leave one of the two out",
        ),
        (
            "thickness = 6.0",
            "zero_fret = true",
            "sample.toml:22: fretboard.zero_fret = true: is stated beside fretless: the strings of a fretless neck lie "
            "on the nut; leave one of the two out",
        ),
        (
            '"plain"',
            '"plane"',
            'sample.toml:19: fretboard.fretless = "plane": is not one of the choices; allowed are "plain", "lined"; '
            'did you mean "plain"?',
        ),
        (
            "frets = 24",
            "frets = 0",
            "sample.toml:20: fretboard.frets = 0: is too small; allowed are 5 to 36",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(before: str, after: str, says: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(PLAIN.replace(before, after))
    assert str(refused.value) == says


def test_a_thin_plain_fretboard_has_no_slots_that_could_cut_through() -> None:
    thin = ("fretboard.thickness=2.2", "fretboard.radius=flat", "heel.depth=30")
    with pytest.raises(DesignError, match=r"fret_slot\.depth .*cuts through"):
        laid_out(LINED, *thin)
    assert laid_out(PLAIN, *thin).fretboard.thickness == 2.2


def test_lines_are_filled_with_maple_unless_stated() -> None:
    assert design(LINED).fretboard.fret_slot.filler == "maple"
    assert design(LINED, "fretboard.fret_slot.filler=holly").fretboard.fret_slot.filler == "holly"
    assert design(PLAIN).fretboard.fret_slot.filler is None
    assert design(LINED).sha256 == design(LINED, "fretboard.fret_slot.filler=maple").sha256


def test_what_has_no_effect_is_said() -> None:
    from neckmodel.design.remarks import remarks

    said = remarks(design(PLAIN, "fretboard.fret_slot.depth=2.0", "limits.fret_slots_edge=0.4"))
    for key in ("fretboard.fret_slot.depth", "limits.fret_slots_edge"):
        assert f"{key} has no effect: a plain fretless fretboard has no fret slots" in said
    assert "fretboard.fret_slot.filler has no effect: the fret slots take frets" in remarks(
        design(FRETTED, "fretboard.fret_slot.filler=maple")
    )


def test_any_neck_becomes_fretless_by_one_key() -> None:
    """Presets that state a height of their frets lose it with that."""
    bare = read(path_of("garganey"), ["fretboard.fretless=plain"])
    assert (bare.fretboard.fretless, bare.fretboard.fret_stands) == ("plain", 0.0)
    stated = design(FRETTED.replace("thickness = 6.0", "fret_height = 1.0"), "fretboard.fretless=lined")
    assert stated.fretboard.fretless == "lined"


def test_without_frets_nothing_stands_proud() -> None:
    """The fretboard's own change is told; no limit holds it."""
    fretted, plain = (findings(laid_out(text))["strength/moisture"] for text in (FRETTED, PLAIN))
    assert fretted.limit == 0.2
    assert plain.limit is None
    assert plain.measured == pytest.approx(2 * (fretted.measured or 0.0), abs=2e-4)
    assert "proud" not in plain.says
    assert not any("proud" in name for name in plain.more)


def test_fretless_without_a_rod() -> None:
    """The two kinds together."""
    layout = laid_out(KNOT, "fretboard.fretless=plain")
    assert (layout.rod, layout.fretboard.slots) == (None, ())
    assert findings(layout)["strength/relief"].limit == 0.35
