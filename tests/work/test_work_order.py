"""The order of work of every preset and kind: what is there, what is not, in which order, with which numbers."""

from __future__ import annotations

import math
import re

import pytest
from sheet_cases import INCHES, NAMES, layout_of
from work_cases import BODY_WINGS, ORDER, WINGS, lines_of, out_of_order, place_of

from neckmodel.layout import Layout
from neckmodel.work.order import Work, order_of_work

ROD = ("redpoll", "dunnock", "garganey", "wheatear", "whimbrel", INCHES)
KINDS = (
    *((name,) for name in NAMES),
    *((name, 'design.hand="left"') for name in NAMES),
    ("redpoll", *WINGS),
    ("redpoll", 'nut.seat="groove"', "head.starts_at=-16.0"),
    ("redpoll", 'rod.kind="one-way"'),
    ("garganey", BODY_WINGS),
    ("wheatear", 'head.scarf="on-ramp"', "head.volute={length=40.0, height=3.0}"),
)


def works_of(layout: Layout) -> dict[str, Work]:
    return {work.title: work for work in order_of_work(layout)}


def titled(layout: Layout, start: str) -> Work:
    return next(work for work in order_of_work(layout) if work.title.startswith(start))


@pytest.mark.parametrize("case", KINDS, ids=str)
def test_the_order_is_the_trades(case: tuple[str, ...]) -> None:
    layout = layout_of(*case)
    lines = lines_of(layout)
    # from behind the router stands on the shaft's back, which is sawn level first
    early = "^Saw the head's back"
    order = [p for p in ORDER if p != early or layout.back_strip is None]
    assert out_of_order(lines, order) == []
    if layout.back_strip is not None:
        cut = place_of(lines, r"^cut (?!access-slot|key-swing)")
        sawn = place_of(lines, early)
        assert cut is not None
        assert sawn is not None
        assert sawn < cut
    assert len({work.title for work in order_of_work(layout)}) == len(order_of_work(layout))
    back = "^Saw the head's back" if layout.head.kind != "none" else "^Saw the under side of the nut end"
    always = ("^Lay the wood", "^Plane the upper", "^Draw the", back, "^Let the blank rest again")
    always += (
        "^Saw the shaft's sides",
        "^Plane the fretboard",
        "^Lay the fretboard",
        "^Plane the sides flush",
        "^Carve",
    )
    if layout.design.fretboard.in_one:
        always = tuple(pattern for pattern in always if "fretboard" not in pattern)
    assert [pattern for pattern in always if place_of(lines, pattern) is None] == []


def test_the_blank_rests_between_roughing_and_truing() -> None:
    """Wood is built at 6 to 9 % of moisture: common practice, no source."""
    works = order_of_work(layout_of("redpoll"))
    assert [work.title for work in works[:3]] == [
        "Saw out roughly, and let the wood rest",
        "True the blank",
        "Mark out",
    ]
    assert "6 to 9 %" in works[0].checks[0]
    again = titled(layout_of("redpoll"), "Let it rest")
    assert any("within 0.10 mm" in check for check in again.checks)  # tolerances.glue_plane
    # a rod 9.2 high must not come to stand above a plane that was trued once more
    assert any("the run is still 9.20 mm deep or more" in check for check in again.checks)


@pytest.mark.parametrize("name", ROD)
def test_a_rod_is_slack_before_and_while_any_glue_over_it_sets(name: str) -> None:
    """Felt before it is covered, not turned while the glue is green, turned once it has set."""
    layout = layout_of(name)
    over = [
        work for work in order_of_work(layout) if work.title in ("Glue in the cover strip", "Glue on the fretboard")
    ]
    assert len(over) == (2 if name == "wheatear" else 1)
    for work in over:
        says = " ".join(work.says)
        assert "never turn a rod while glue sets" in says
        assert "data sheet" in says
        assert "before the glue has set" not in says
        assert "slack" in says
    first, last = over[0], over[-1]
    assert "Feel the rod free" in " ".join(first.says)
    assert any(check.startswith("once the glue has set for its full time: the adjuster turns") for check in last.checks)
    assert "rattl" in " ".join(first.says)


@pytest.mark.parametrize(
    ("case", "both"),
    [(("redpoll",), True), (("redpoll", 'rod.kind="one-way"'), False), (("wheatear",), False)],
    ids=["two-way", "one-way", "compression"],
)
def test_only_a_two_way_rod_turns_both_ways(case: tuple[str, ...], both: bool) -> None:
    said = " ".join(lines_of(layout_of(*case)))
    assert ("both ways until each just takes hold" in said) is both
    assert ("a quarter of a turn both ways" in said) is both
    assert ("back it off by half a turn" in said) is not both
    assert ("can take relief away, not add any" in said) is not both


def test_which_way_up_the_rod_goes() -> None:
    """redpoll's axis lies 4.2 below the top of a rod 9.2 high: 5.0 from the other face; whimbrel's 4.6 of 9.2 is the
    middle; a compression rod is round."""
    trial = " ".join(titled(layout_of("redpoll"), "Square the corners").says)
    assert (
        "with that face up from which the adjuster's axis lies 4.20 mm. Turned over, the axis would lie 5.00 mm"
        in trial
    )
    assert "its pocket and the access slot are not cut for that" in trial
    laid = " ".join(titled(layout_of("redpoll"), "Glue on the fretboard").says)
    assert "the same face up as in the trial: the adjuster's axis 4.20 mm under it" in laid
    assert "with a thin sleeve or wax" in laid
    either = " ".join(titled(layout_of("whimbrel"), "Square the corners").says)
    assert "with its adjuster at the heel. The adjuster's axis lies 4.60 mm from either face" in either
    assert "face up" not in " ".join(lines_of(layout_of("wheatear")))


@pytest.mark.parametrize(
    ("over", "play"),
    [
        ((), "what play it has"),  # the run comes out of a cutter as wide as the rod
        (("workshop.cutters=[{diameter=4.0, flute_length=16.0, stick_out=36.0}]",), "the 0.10 mm of play in its run"),
        (("measured.channel.run.width=6.18",), "the 0.18 mm of play in its run"),
    ],
)
def test_a_rod_is_kept_from_rattling_in_its_run_as_it_is_cut(over: tuple[str, ...], play: str) -> None:
    laid = " ".join(titled(layout_of("redpoll", *over), "Glue on the fretboard").says)
    assert f"Keep it from rattling: take up {play} with a thin sleeve or wax along its middle" in laid


def test_a_rod_that_would_stand_proud_is_not_said_to_lie_below() -> None:
    """Cut 9.0 deep for a rod 9.2 high."""
    trial = " ".join(titled(layout_of("redpoll", "measured.channel.run.depth=9.0"), "Square the corners").says)
    assert "its top stands 0.20 mm above the glue plane: cut the run that much deeper first" in trial
    assert "-0.20" not in trial


def test_bars_are_glued_and_levelled_before_the_fretboard() -> None:
    work = titled(layout_of("garganey"), "Glue in bar 1 and bar 2")
    assert "bar 2, carbon, 590.00 mm x 4.00 mm x 9.00 mm: from x 15.00 mm, its middle at y 9.00 mm." in work.says
    assert "nothing stands above the glue plane" in " ".join(work.says)
    assert "lie 0.05 mm under it" in " ".join(work.says)  # half of the 0.10 that the channel is larger for glue
    assert any("carbon" in caution for caution in work.cautions)
    assert "into the run" in " ".join(work.says)  # the rod's channel is kept free of glue
    assert "rod" not in " ".join(titled(layout_of("pipit"), "Glue in bar 1").says)


@pytest.mark.parametrize("words", ["rod", "adjuster", "slack", "key"])
def test_a_neck_without_a_rod_hears_nothing_of_one(words: str) -> None:
    said = " ".join(lines_of(layout_of("pipit"))).lower()
    assert not re.search(rf"\b{words}", said)


def test_the_tenons_shoulders_and_the_necks_angle() -> None:
    """L 642, joint 14, H 16, strings 0.4 at the nut and 2.0 at fret 12, frets 7.2 over the body:
    `atan((16 - 3.6 - 7.2)/(642 - 356.016))` = 1.0417 deg; over a heel 80 deep that is 1.455 mm. A straightedge on the
    frets then stands 16 - 3.6 = 12.4 over the body at the bridge, on the bare fretboard 1.1 less."""
    over = ("action.bridge_height=16.0", "action.fretboard_above_body=7.2")
    layout = layout_of("wheatear", *over)
    x_joint = 642 * (1 - 2 ** (-14 / 12))
    phi = math.atan((16 - 3.6 - 7.2) / (642 - x_joint))
    work = titled(layout, "Cut the tenon")
    says = " ".join(work.says)
    assert f"Mark the shoulders all round at the joint, x {x_joint:.2f} mm, and the cheeks 11.00 mm either side" in says
    assert f"stands {math.degrees(phi):.2f} deg back from the body, for strings 16.00 mm over it at the bridge" in says
    assert f"80.00 mm down, they lie {80 * math.tan(phi):.2f} mm farther toward the head than at the glue plane" in says
    assert "The tenon's bottom lies 60.00 mm below the glue plane" in says
    assert any("21.90 mm to 22.10 mm thick" in check and "20.00 mm long" in check for check in work.checks)
    fit = titled(layout, "Fit the neck to the body")
    assert any(
        "11.30 mm over the body at the bridge, x 642.00 mm (over frets 12.40 mm)" in check for check in fit.checks
    )
    lower = " ".join(titled(layout_of("wheatear", "action.bridge_height=10.0"), "Cut the tenon").says)
    assert "forward from the body" in lower
    assert "farther toward the body than" in lower


def test_a_tenon_without_a_stated_bridge_is_square() -> None:
    says = " ".join(titled(layout_of("wheatear"), "Cut the tenon").says)
    assert "square to the glue plane" in says
    # strings 2 x 2.0 - 0.4 over the frets' line, which lies 6.0 + 1.1 over a body whose top is level with the plane
    assert "for strings 10.70 mm over the body at the bridge" in says
    # how high pipit's fretboard lies over its body is stated nowhere: no number is made up
    assert "over the body" not in " ".join(lines_of(layout_of("pipit")))


def test_a_bolted_neck_with_an_angle_has_it_in_its_pocket() -> None:
    angled = layout_of("redpoll", "action.bridge_height=16.0")
    fit = titled(angled, "Fit the neck to the body")
    assert (
        f"{angled.action.angle:.2f} deg back from the body: cut the floor of the neck pocket to that angle"
        in fit.says[0]
    )
    assert "Fit the neck to the body" not in works_of(layout_of("redpoll"))
    for name in ("redpoll", "garganey"):
        assert not any("tenon" in line for line in lines_of(layout_of(name)))


@pytest.mark.parametrize(
    ("name", "packing"),
    [
        (
            "redpoll",
            "Lay scrap as thick as the step is high, 10.00 mm, on the head's face from the head line at x -6.00 mm",
        ),
        (
            "garganey",
            "Lay a wedge of scrap, 10 deg, on the head's face from the head line at x -6.00 mm to x -122.20 mm",
        ),
        (
            "wheatear",
            "Lay a wedge of scrap, 14 deg, on the head's face from the head line at x -6.00 mm to x -93.84 mm",
        ),
    ],
)
def test_the_base_does_not_tip(name: str, packing: str) -> None:
    """garganey's slot leaves the wood at x -47.20, where the base of 75 reaches 122.20; wheatear's at -18.84."""
    layout = layout_of(name)
    rout = titled(layout, "Rout the channel")
    says = " ".join(rout.says)
    assert packing in says
    assert "level with the glue plane" in says
    wedge = {"garganey": 116.2 * math.tan(math.radians(10)), "wheatear": 87.84 * math.tan(math.radians(14))}
    if name in wedge:
        assert f"where it is {wedge[name]:.2f} mm thick" in says
    # a head that is glued on at an angle always needs it; one that is sawn from the square only where it is sawn before
    last = rout.says[-1]
    assert last.startswith("If the side profile is sawn already")
    assert (packing in last) is (name != "wheatear")


def test_the_blank_is_routed_in_the_square() -> None:
    """What it would sag is told: 63 wide and 16.3 to 18.75 thick over 356 mm gives 0.27 (see the test of the strength's
    blank); an even 63 x 18.5 over 386 mm gives 0.29."""
    says = titled(layout_of("redpoll"), "Rout the channel").says
    assert says[0].startswith("Rout in the square, before the side profile is sawn")
    sag = "stands free over 356.02 mm, 63.00 mm wide and 16.31 mm at its thinnest, and sags by some 0.27 mm under 100 N"
    assert sag in says[-1]
    unknown = titled(layout_of("redpoll", 'neck.wood="driftwood"'), "Rout the channel").says[-1]
    assert " N, " not in unknown
    assert "pack it from below" in unknown
    assert "hangs over the bench's end" in titled(layout_of("wheatear"), "Rout the channel").says[0]


@pytest.mark.parametrize("case", KINDS, ids=str)
def test_glue_router_and_saw_have_their_cautions(case: tuple[str, ...]) -> None:
    for work in order_of_work(layout_of(*case)):
        said = " ".join(work.says)
        cautions = " ".join(work.cautions)
        if work.title.startswith("Glue"):
            assert "data sheet" in said
            assert "Glue: epoxies" in cautions
        if work.cuts:
            assert "Router:" in cautions
            assert "Dust:" in cautions
        if said.startswith("Saw ") or " saw " in said:
            assert "Saw:" in cautions or "Chisel:" in cautions
        assert "  " not in said
        assert ".." not in said


def test_the_head_is_sawn_after_its_slot_is_routed_and_before_the_key_is_tried() -> None:
    lines = lines_of(layout_of("redpoll"))
    patterns = ("^cut access-slot", "^Saw the head's back", "Bring the key in", "^Lay the fretboard")
    assert None not in [place_of(lines, pattern) for pattern in patterns]
    assert out_of_order(lines, patterns) == []


def test_what_whimbrel_needs_at_its_heel() -> None:
    """The wheel stands beyond the neck's wood, which ends at 510: the end must be off before the rod can be tried."""
    layout = layout_of("whimbrel")
    lines = lines_of(layout)
    off, tried = place_of(lines, "Saw the blank's body end off square at x 510.00 mm"), place_of(lines, "Try the rod")
    assert off is not None
    assert tried is not None
    assert off <= tried
    assert any("Saw:" in caution for caution in titled(layout, "Square the corners").cautions)
    assert place_of(lines, "^Saw the body end off") is None  # not twice
    assert place_of(lines, "turn the wheel by 60 deg to the next hole") is not None
    assert place_of(lines, "hexagon|from one flat") is None


def test_the_nuts_groove_and_wings_stand_in_the_order() -> None:
    groove = titled(layout_of("redpoll", 'nut.seat="groove"', "head.starts_at=-16.0"), "Cut the nut's groove")
    assert "from x -5.00 mm to 0.00 mm on the centre line, 2.00 mm below the glue plane" in groove.says[0]
    assert "Cut the nut's groove" not in works_of(layout_of("redpoll"))
    wings = titled(layout_of("redpoll", *WINGS), "Glue on the wings of the head")
    assert len([line for line in wings.says if line.startswith("wing")]) == 2
    body = titled(layout_of("garganey", BODY_WINGS), "Glue on the wings of the body")
    assert len([line for line in body.says if line.startswith("body wing")]) == 2


def test_an_inch_design_is_told_in_inches() -> None:
    lines = [line for work in order_of_work(layout_of(INCHES)) for line in (*work.says, *work.checks)]
    assert not any(" mm" in line for line in lines)
    assert any("2 1/2 in" in line for line in lines)
