"""Where a rod may lie and which would fit: the fretboard's cover, fret 1 at the heel, a wheel, and how it is told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import laid_out, preset

from neckmodel.design import Design, changed, read_text
from neckmodel.design.remarks import remarks
from neckmodel.design.rods import OwnRod
from neckmodel.design.schema import json_schema
from neckmodel.errors import DesignError
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.rod.bounds import Bound
from neckmodel.layout.rod.lengths import lengths_that_fit, too_long_or_short
from neckmodel.layout.rod.rod import in_wood
from neckmodel.layout.tables import Voice, rod
from neckmodel.variants import fit_rods
from neckmodel.variants.json import rods_json

FRET_1 = 1 - 2 ** (-1 / 12)
FEW_FRETS = "fretboard.frets=16"
# scales for which the worked numbers below were made; the preset's own may change
SCALES = ("strings.scale.bass=680", "strings.scale.treble=648", "strings.scale.square_fret=9", "fretboard.ends_at=510")
CENTRE = 663.9576  # of both scales on the centre line: half of 679.9586 and 647.9566
FLOOR = 4.0  # the gap from the nut


def heel(*over: str) -> Design:
    return preset("whimbrel", *SCALES, "heel.wood_ends_at=510", *over)


def told(design: Design) -> dict:
    from neckmodel.layout import lay_out

    return layout_json(lay_out(design))["rod"]


def shown(design: Design) -> dict[str, str]:
    from neckmodel.layout import lay_out

    return {row[0].strip(): row[1] for row in rod.rod(lay_out(design), Voice("mm", terse=True)).rows}


# --- the fretboard's cover -------------------------------------------------------------------------------------------
def test_a_short_fretboard_bounds_the_rod() -> None:
    """redpoll with 16 frets: the fretboard ends at 386.02 + 8, the channel 1 past the rod of 420: -26.98."""
    data = told(preset("redpoll", FEW_FRETS))
    ends = 640.0 * (1 - 2 ** (-16 / 12)) + 8.0
    assert data["x_adjuster_max"] == data["x_adjuster_last_covered"] == pytest.approx(ends - 1.0 - 420.0, abs=1e-5)
    assert data["x_adjuster_max"] == pytest.approx(-26.98, abs=5e-3)
    # the anchor is to lie 15 past the joint, which is 8.00 farther than the fretboard covers a channel: no rod fits
    assert data["fitting_length_from"] - data["fitting_length_to"] == pytest.approx(15.0 - 7.0, abs=1e-5)
    (bound,) = [b for b in data["bounds"] if b["reason"] == "the fretboard's end"]
    assert (bound["side"], bound["key"]) == ("to", "fretboard.past_last_fret")


def test_it_is_said_not_to_fit_and_by_how_much() -> None:
    said = shown(preset("redpoll", FEW_FRETS))
    assert said["no place for this rod: it is too long by"] == "30.98"
    assert said["rods that would fit: none; lacking"] == "8.00"
    assert not any(words.startswith(("adjuster's face may lie", "to x", "and up to")) for words in said)


def test_what_keeps_the_limit_of_cover_is_told_beside_what_is_covered_at_all() -> None:
    """garganey's fretboard ends at 647, the body's cut-out begins at 653: both let the rod of 600 start at 46; with the
    2.00 mm of fretboard that cover/run asks for, at 44."""
    said, data = shown(preset("garganey")), told(preset("garganey"))
    assert (said["to x"], said["and up to here 2.00 of fretboard reach past its channel"]) == ("46.00", "44.00")
    assert (data["x_adjuster_max"], data["x_adjuster_last_well_covered"]) == (pytest.approx(46.0), pytest.approx(44.0))
    assert data["fitting_length_to_well_covered"] == pytest.approx(data["fitting_length_to"] - 2.0)
    assert said["to a length of, with 2.00 of fretboard past it"] == "640.00"


def test_bars_are_bounded_by_it_too() -> None:
    """pipit with fewer frets: its bar in wood to the tenon's end, under a fretboard that ends sooner."""
    layout = laid_out("pipit", "fretboard.ends_at=183", "fretboard.frets=12")
    (bar,) = layout.bars
    assert min(bound.x for bound in bar.upper) == pytest.approx(183.0 - 1.0 - (bar.x_end - bar.x_start))
    assert min(bound.x for bound in in_wood(bar.upper)) > 183.0 - 1.0 - (bar.x_end - bar.x_start)


# --- the heel --------------------------------------------------------------------------------------------------------
def test_rods_for_a_wheel_beyond_the_fretboard_are_as_long_as_it_takes() -> None:
    """The wheel of 9 is clear of a fretboard to 510 from 519; the rod begins before fret 1 at 37.26: 481.74."""
    data = told(heel())
    assert data["fitting_length_from"] == pytest.approx(510.0 + 9.0 - CENTRE * FRET_1, abs=1e-3)
    assert data["fitting_length_from"] == pytest.approx(481.74, abs=0.01)
    assert shown(heel())["rods that would fit: from a length of"] == "481.74"  # rounded up: it is itself enough


@given(st.floats(0.02, 8.0))
def test_rods_of_these_lengths_have_a_place_and_others_have_none(beyond: float) -> None:
    data = told(heel())
    for length, fits in (
        (data["fitting_length_from"] + beyond, True),
        (data["fitting_length_to"] - beyond, True),
        (data["fitting_length_from"] - beyond, False),
        (data["fitting_length_to"] + beyond, False),
    ):
        other = told(heel(f"rod.length={length}", 'rod_place.from_nut="auto"'))
        first = max(other["x_start_min"], other["x_start_first_clear_of_fretboard"])
        assert (first <= other["x_start_max"] + 1e-4) is fits


def test_a_rod_turned_at_the_heel_begins_before_fret_1() -> None:
    data = told(heel("rod.length=440", "rod_place.from_nut=80"))
    assert data["x_start_max"] == pytest.approx(CENTRE * FRET_1, abs=1e-4)
    said = shown(heel("rod.length=440", "rod_place.from_nut=80"))
    assert said["no place for this rod: it is too short by"] == "41.73"


def own(design: Design, length: float) -> OwnRod:
    tables = {"rod": {**design.source.raw["rod"], "length": length}}
    return OwnRod("own", 1, tables, "rods.toml", None)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("length", "says"),
    [
        (440.0, "41.73 mm too short: the wheel clear of the fretboard and fret 1"),
        (520.0, "3.82 mm too long: the gap from the nut and the wood's end"),
        (496.0, ""),
    ],
)
def test_rods_says_what_is_wrong_with_one_that_does_not_fit(length: float, says: str) -> None:
    design = heel()
    (fit,) = fit_rods(design, [own(design, length)])
    assert fit.fits is (says == "")
    wrong, _, bounds = says.partition(": ")
    assert fit.wrong == wrong
    if says:
        assert fit.says == f"{bounds} leave no place, {wrong.rpartition(' too ')[0]} are lacking"
    (data,) = rods_json("whimbrel", (fit,))["rods"]
    assert (data["x_from"] <= data["x_to"]) is fit.fits
    assert (data["fitting_length_from"] <= length <= data["fitting_length_to"]) is fit.fits


def test_rods_holds_them_to_the_limit_of_cover() -> None:
    """redpoll with 18 frets and the gap of 4: the fretboard's end less 1 of clearance and 2.00 past the channel."""
    design = preset("redpoll", "fretboard.frets=18")
    ends = 640.0 * (1 - 2 ** (-18 / 12)) + 8.0
    (fit,) = fit_rods(design, [own(design, 420.0)])
    assert fit.length_to == pytest.approx(ends - 1.0 - 2.0 - FLOOR)
    assert not fit.fits
    assert fit.wrong == f"{420.0 - (ends - 7.0):.2f} mm too long"
    (fit,) = fit_rods(design, [own(design, round(ends - 7.01, 2))])
    assert fit.fits


# --- the arithmetic --------------------------------------------------------------------------------------------------
def test_what_two_bounds_leave() -> None:
    nut, far = Bound("nut", 4.0, "a"), Bound("joint", 30.0, "b", shifts=True)
    key, wood = Bound("key", 20.0, "c"), Bound("wood", -6.0, "d", shifts=True)
    assert too_long_or_short(nut, wood) == "10.00 mm too long"
    assert too_long_or_short(far, key) == "10.00 mm too short"
    assert too_long_or_short(far, wood) == too_long_or_short(Bound("nut", 24.0, "a"), key) == ""
    # of 100: the far end from 130 on and up to 94, the near end from 4 to 20
    assert lengths_that_fit(100.0, (nut,), (key, wood)) == (float("-inf"), 90.0)
    assert lengths_that_fit(100.0, (nut, Bound("joint", 30.0, "b", shifts=True)), (key,)) == (110.0, float("inf"))
    least, most = lengths_that_fit(100.0, (nut, far), (key, wood))
    assert least - most >= 36.0 - 1e-9  # the far end's bounds leave it 36 short, whatever its length


# --- a compression rod -----------------------------------------------------------------------------------------------
def test_a_compression_rod_is_not_asked_where_its_axis_lies_below_its_top() -> None:
    design = preset("wheatear")
    assert not design.stated("rod.adjuster.axis_below_top")
    assert not any("axis_below_top" in said for said in remarks(design))
    stated = preset("wheatear", "rod.adjuster.axis_below_top=4.0")
    (said,) = [said for said in remarks(stated) if "axis_below_top" in said]
    assert said == "rod.adjuster.axis_below_top has no effect: a compression rod's axis is rod.axis_depth"
    assert laid_out("wheatear").rod == laid_out("wheatear", "rod.adjuster.axis_below_top=7.0").rod


def test_any_other_rod_must_state_it() -> None:
    text = (preset("redpoll").source.text or "").replace("axis_below_top = 4.2, ", "")
    with pytest.raises(DesignError, match=r"rod\.adjuster\.axis_below_top: is missing"):
        read_text(text, "redpoll")
    assert "axis_below_top" not in json_schema()["$defs"]["Adjuster"]["required"]
    assert "compression rod" in json_schema()["$defs"]["Adjuster"]["properties"]["axis_below_top"]["description"]


def test_a_compression_rod_made_two_way_is_asked() -> None:
    with pytest.raises(DesignError, match="axis_below_top"):
        changed(preset("wheatear"), ['rod.kind="two-way"', "rod.width=5", "rod.height=8"])
