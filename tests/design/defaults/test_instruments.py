"""What is not stated follows from the kind of instrument, where that is stated; without the key, from nothing new.

Every value is common practice, no source: what is tested is that each kind has the ones meant for it, and that a neck
of nothing else can be laid out.
"""

from __future__ import annotations

import pytest

from neckmodel.design import Design, read_text, remarks
from neckmodel.design.defaults.instruments import INSTRUMENTS
from neckmodel.design.schema import json_schema
from neckmodel.layout import lay_out


def design(instrument: str | None, courses: int, scale: float, joint: int, more: str = "", units: str = "mm") -> Design:
    """A neck of which next to nothing is stated."""
    said = f'instrument = "{instrument}"\n' if instrument else ""
    glued_in = instrument in INSTRUMENTS and INSTRUMENTS[instrument or ""].acoustic
    length = round(scale * (1 - 2 ** (-joint / 12)) - 4 + (7 if glued_in else 17))
    return read_text(
        f'[design]\nname = "linnet"\nunits = "{units}"\n{said}[strings]\ncourses = {courses}\nscale = "{scale} mm"\n'
        f'[fretboard]\n[neck]\njoint_fret = {joint}\n[bars]\nwidth = "5 mm"\nheight = "8 mm"\nlength = "{length} mm"\n'
        + more
    )


ELECTRIC, BASS, SHORT_BASS = ("electric", 6, 640.0, 16), ("bass", 4, 864.0, 17), ("bass", 4, 762.0, 17)
STEEL, NYLON, MANDOLIN = ("steel-string", 6, 645.0, 14), ("nylon-string", 6, 650.0, 12), ("mandolin", 4, 350.0, 12)
KINDS = [ELECTRIC, ("electric", 7, 660.0, 17), BASS, ("bass", 5, 864.0, 17), SHORT_BASS, STEEL, NYLON, MANDOLIN]


def test_the_list_is_the_one_of_the_key() -> None:
    entry = json_schema()["$defs"]["Info"]["properties"]["instrument"]
    assert entry["enum"] == list(INSTRUMENTS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_neck_of_defaults_alone_can_be_laid_out_and_is_usual(kind: tuple[str, int, float, int]) -> None:
    layout = lay_out(design(*kind))
    assert remarks(layout.design) == []
    bar = layout.bars[0]
    assert max(bound.x for bound in bar.lower) <= bar.x_start <= min(bound.x for bound in bar.upper)


@pytest.mark.parametrize(
    ("kind", "nut", "bridge"),
    [
        (ELECTRIC, 42.5, 52),
        (("electric", 7, 660.0, 17), 49, 63),
        (BASS, 40, 57),
        (("bass", 5, 864.0, 17), 46, 70),
        (STEEL, 44, 55),
        (NYLON, 52, 58),
        (MANDOLIN, 29, 40),
    ],
)
def test_widths(kind: tuple[str, int, float, int], nut: float, bridge: float) -> None:
    made = design(*kind)
    assert made.strings.spacing_at_nut + 2 * made.fretboard.edge_margin.nut == pytest.approx(nut)
    assert made.strings.spacing_at_bridge == bridge


@pytest.mark.parametrize(
    ("kind", "at_nut", "at_12", "relief"),
    [
        (ELECTRIC, 0.4, 1.8, 0.15),
        (BASS, 0.5, 2.4, 0.3),
        (SHORT_BASS, 0.5, 2.2, 0.25),
        (STEEL, 0.4, 2.2, 0.2),
        (("steel-string", 6, 580.0, 14), 0.4, 2.0, 0.15),
        (NYLON, 0.5, 3.2, 0.2),
        (MANDOLIN, 0.3, 1.4, 0.1),
    ],
)
def test_string_height_and_relief(
    kind: tuple[str, int, float, int], at_nut: float, at_12: float, relief: float
) -> None:
    """A bass's strings swing widest, nylon's wider than steel's; a shorter string swings less and is set lower."""
    action = design(*kind).action
    assert (action.at_nut, action.at_12, action.wanted_relief) == (at_nut, at_12, relief)


def test_a_basss_relief_is_usual_for_a_bass_and_not_for_an_electric() -> None:
    more = "[action]\nwanted_relief = 0.4\n"
    assert remarks(design(*BASS, more)) == []
    assert remarks(design(*ELECTRIC, more)) == [
        "action.wanted_relief = 0.4 lies outside the usual 0.1 to 0.3 (common practice, no published source)"
    ]


@pytest.mark.parametrize(("kind", "heel"), [(STEEL, 84.0), (NYLON, 80.0), (MANDOLIN, 42.0)])
def test_an_acoustic_neck_is_glued_in_and_as_deep_as_its_body(kind: tuple[str, int, float, int], heel: float) -> None:
    """The fretboard lies on the top: the pocket is as deep as the heel. A rod or bar ends within the tenon."""
    made = design(*kind)
    assert (made.heel.kind, made.heel.depth, made.body.top) == ("tenon", heel, 0.0)
    assert made.heel.tenon is not None
    assert made.heel.tenon.depth < heel < made.body.thickness
    place, tenon = made.rod_place, made.heel.tenon.length
    assert place.past_joint + place.wood_beyond_rod + made.channel.end_clearance < tenon
    assert lay_out(made).heel.x_end == pytest.approx(lay_out(made).heel.x_joint + tenon)


def test_what_is_stated_stays() -> None:
    more = '[heel]\nkind = "bolted"\n[action]\nat_12 = 1.5\n[head]\nlength = 150.0\n'
    made = design(*STEEL, more)
    assert (made.heel.kind, made.heel.tenon, made.heel.depth, made.heel.neck_pocket_depth) == ("bolted", None, 19, 16)
    assert (made.action.at_12, made.head.length, made.rod_place.past_joint) == (1.5, 150, 15)
    deeper = design(*STEEL, "[heel]\ndepth = 90.0\n")
    assert (deeper.heel.neck_pocket_depth, deeper.body.top) == (90, 0)
    assert deeper.heel.tenon is not None
    assert deeper.heel.tenon.depth == 72


def test_a_tenon_of_defaults_is_in_mm_in_a_file_in_inches() -> None:
    made = design(*STEEL, units="in")
    assert made.heel.tenon is not None
    assert (made.heel.tenon.length, made.heel.tenon.width, made.heel.tenon.depth) == (20, 22, 67)


@pytest.mark.parametrize(
    ("kind", "more", "length"),
    [
        (ELECTRIC, "", 40 + 2 * 40 + 50),
        (("electric", 7, 660.0, 17), "", 40 + 3 * 40 + 50),
        (BASS, "", 50 + 60 + 70),
        (("bass", 5, 864.0, 17), "", 50 + 2 * 60 + 70),
        (STEEL, "", 45 + 2 * 45 + 45),
        (("electric", 6, 640.0, 16), "tuners", 165 + 50),
    ],
)
def test_the_head_is_as_long_as_its_tuners_need(kind: tuple[str, int, float, int], more: str, length: float) -> None:
    """Half of them on either side, or as they are stated: six in a row, the last at 165."""
    row = ", ".join(
        f"{{x = {-40 - 25 * k}, y = -10, hole = 10, housing = {{length = 24, width = 16}}}}" for k in range(6)
    )
    made = design(*kind, f"[head]\ntuners = [{row}]\n" if more else "")
    assert made.head.length == length


def test_twelve_strings_and_eight_have_longer_heads() -> None:
    pairs = ("paired = true\npair_gap = 2.0\n",)
    assert read_text(_paired(*STEEL, *pairs)).head.length == 45 + 5 * 28 + 45
    assert read_text(_paired(*MANDOLIN, *pairs)).head.length == 38 + 3 * 23 + 43


def _paired(instrument: str, courses: int, scale: float, joint: int, pairs: str) -> str:
    text = design(instrument, courses, scale, joint).source.text
    return text.replace("[fretboard]", f"{pairs}[fretboard]")


def test_without_the_key_everything_is_as_it_was() -> None:
    """What the tool took before there was a key, number by number."""
    plain, tenon = design(None, 6, 640.0, 16), "[heel]\nkind = 'tenon'\ntenon = {length = 30, width = 22, depth = 15}\n"
    acoustic, bass = design(None, 6, 645.0, 14, tenon), design(None, 4, 762.0, 16, "[heel]\ndepth = 22.0\n")
    for made, nut, thick in ((plain, 42.5, 20.5), (acoustic, 44, 20.5), (bass, 40, 21.5)):
        assert (made.action.at_nut, made.action.at_12, made.action.wanted_relief) == (0.4, 1.8, 0.15)
        assert made.strings.spacing_at_nut + 7 == nut
        assert (made.neck.thickness.fret_1, made.fretboard.frets) == (thick, 22)
        assert (made.head.kind, made.head.length, made.body.thickness) == ("stepped", 170, 45)
        assert (made.rod_place.past_joint, made.heel.neck_pocket_depth) == (15, 16)
    assert (plain.heel.kind, plain.heel.depth, acoustic.heel.depth) == ("bolted", 19, 19)
    missing = "[heel]\nkind = 'tenon'\n"
    with pytest.raises(ValueError, match=r"heel\.tenon: is missing"):
        design(None, 6, 645.0, 14, missing)


def test_bars_alone_are_held_to_the_relief_that_is_usual_for_the_kind() -> None:
    from neckmodel.design.defaults.by_instrument import relief_range
    from neckmodel.design.values.keys import Facts

    ranges = [relief_range(Facts(design(*kind).source.raw)) for kind in (ELECTRIC, BASS, NYLON)]
    assert [found.high for found in ranges] == [0.3, 0.5, 0.35]
