"""What is still uncut, given what was measured: which operations are done, what may change, and with which words."""

from __future__ import annotations

import pytest
from neck_runs import as_overrides, design, found_all, laid_out, proved

from neckmodel.checks.remedies.fixed import only_if, puts_back
from neckmodel.checks.remedies.remedy import layout_with
from neckmodel.checks.trial import failing_of
from neckmodel.findings import ways_of
from neckmodel.layout.measured.operations import done, stages_of
from neckmodel.work.order import order_of_work

THIN = ("measured.neck.thickness.fret_1=17.6", "measured.neck.thickness.fret_12=19.8")


# --- which operations are done ---------------------------------------------------------------------------------------
def test_nothing_measured_nothing_done() -> None:
    state = done(laid_out("redpoll"))
    assert (state.surely, state.likely) == (frozenset(), frozenset())
    assert not state.begun


@pytest.mark.parametrize(
    "bought",
    ["board.thickness=23.5", "rod.height=9.3", "heel.screws.0.diameter=4.4", "head.tuners.0.housing.length=25"],
)
def test_what_is_bought_tells_of_no_work(bought: str) -> None:
    state = done(laid_out("redpoll", f"measured.{bought}"))
    assert not state.begun
    assert not state.likely


def test_what_comes_before_is_likely_done() -> None:
    """Common practice, no source: the channel is cut and the profile sawn, or the other way round, the holes are
    drilled, the fretboard glued on, the back carved."""
    slot = done(laid_out("redpoll", "measured.channel.adjuster.depth=8.3"))
    assert slot.surely == {"channel.adjuster", "board"}
    assert {"head", "heel", "shaft", "width", "channel.run", "channel.access-slot"} <= slot.likely
    assert not {"heel.screws.0", "end", "fretboard-on", "carve-1"} & slot.likely
    carved = done(laid_out("redpoll", "measured.neck.thickness.fret_12=22.4"))
    assert {
        "channel.run",
        "channel.adjuster",
        "channel.access-slot",
        "fretboard-on",
        "shaft",
        "carve-12",
    } <= carved.surely
    assert {"head", "heel", "heel.screws.0", "head.tuners.5", "end"} <= carved.likely
    assert "carve-1" not in carved.surely | carved.likely


@pytest.mark.parametrize("preset", ["redpoll", "wheatear", "garganey", "whimbrel"])
def test_the_order_agrees_with_the_one_that_is_written_down(preset: str) -> None:
    """Routing and sawing the profile in one stage, then drilling, gluing on the fretboard, carving."""
    layout = laid_out(preset)
    titles = [work.title for work in order_of_work(layout)]
    at = {
        word: next(k for k, t in enumerate(titles) if t.startswith(word))
        for word in ("Rout the ch", "Saw the side", "Drill")
    }
    at |= {word: titles.index(word) for word in ("Glue on the fretboard", "Plane the sides flush and carve the back")}
    assert list(at.values()) == sorted(at.values())
    stages = stages_of(layout)
    listed = {f"channel.{name}" for work in order_of_work(layout) for name in work.cuts}
    assert {"head", "heel", "shaft"} | listed == set(stages[1])
    assert "outline" in stages[2]
    assert stages[3:] == (("fretboard-on",), ("carve-1",), ("carve-12",))


# --- what may change -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("measured", "change", "back", "words"),
    [
        # the head's step stands 10 high, the head is 14 thick; 2.0 is left on the back of the shaft, 10 at either end
        ("board.thickness=22", "head.drop=7.5", False, ""),
        ("channel.run.depth=9.3", "head.drop=7.5", False, "the head is not sawn yet"),
        ("channel.run.depth=9.3", "head.thickness=11.5", False, ""),  # more comes off
        ("channel.run.depth=9.3", "head.thickness=14.5", False, "the head is not sawn yet"),
        ("channel.run.depth=9.3", "heel.depth=19.5", False, "the heel is not sawn yet"),
        ("channel.run.depth=9.3", "heel.depth=18.9", False, ""),
        ("head.thickness=13.8", "head.drop=9.8", True, ""),
        ("channel.run.depth=9.3", "neck.thickness.fret_1=21.5 neck.thickness.fret_12=23.5", False, ""),
        ("channel.run.depth=9.3", "heel.wood_ends_at=478", False, ""),
        ("channel.run.depth=9.3", "heel.wood_ends_at=479", False, "the blank is not sawn to length yet"),
        ("channel.run.depth=9.3", "head.outline.far=62", False, ""),
        ("channel.run.depth=9.3", "head.outline.far=64", False, "the blank is not sawn to width yet"),
        ("channel.run.depth=9.3", "board.thickness=24.5", True, ""),
        ("channel.adjuster.depth=8.3", "rod.length=410", False, "the run is not cut yet"),
        ("channel.run.depth=9.3", "rod.length=410", True, ""),
        ("channel.run.depth=9.3", "fretboard.thickness=5.5", False, ""),
        ("neck.thickness.fret_1=20.4", "fretboard.thickness=5.5", True, ""),
        ("neck.thickness.fret_1=20.4", "neck.thickness.fret_12=23", False, ""),
        ("neck.thickness.fret_1=20.4", "head.drop=9", False, "the head is not sawn yet"),
        ("neck.thickness.fret_1=20.4", "heel.screws.0.y=-16", False, "the hole of screw-1 is not drilled yet"),
        (
            "neck.thickness.fret_1=20.4",
            "heel.wood_ends_at=470",
            False,
            "the heel is not cut to length yet and the heel's holes are not drilled yet",
        ),
        ("heel.screws.0.y=-17", "heel.screws.0.from_end=16", True, ""),
        ("heel.screws.0.y=-17", "heel.screws.0.length=47", False, ""),  # the hole grows deeper
        ("heel.screws.0.y=-17", "heel.screws.1.y=16", False, "the hole of screw-2 is not drilled yet"),
        ("heel.wood_ends_at=468.0", "fretboard.edge_margin=4.2", False, ""),
        ("fretboard.thickness=5.9", "fretboard.edge_margin=4.2", False, "the fretboard is not cut to size yet"),
    ],
)
def test_what_a_change_needs(measured: str, change: str, back: bool, words: str) -> None:
    over = f"measured.{measured}"
    before, after = laid_out("redpoll", over), laid_out("redpoll", over, *change.split())
    assert puts_back(before, after) is back
    if not back:
        assert only_if(before, after) == words


def test_what_the_saw_has_left_on_the_shaft_bounds_a_thicker_neck() -> None:
    """2.0 mm are left on the back for carving."""
    deep = ("heel.depth=22", "head.thickness=16", "measured.channel.run.depth=9.3")
    before = laid_out("redpoll", *deep)
    for by, words in ((1.99, ""), (2.05, "the shaft is not sawn yet")):
        thick = (f"neck.thickness.fret_1={20.5 + by}", f"neck.thickness.fret_12={22.5 + by}")
        assert only_if(before, laid_out("redpoll", *deep, *thick)) == words


def test_a_scarf_that_is_glued_keeps_its_angle() -> None:
    for over, back in (("measured.neck.thickness.fret_1=21", True), ("measured.channel.run.depth=12.15", False)):
        before, after = laid_out("wheatear", over), laid_out("wheatear", over, "head.angle=13")
        assert puts_back(before, after) is back
    assert "the blank is not glued up yet" in only_if(before, after)


# --- remedies --------------------------------------------------------------------------------------------------------
def test_a_board_that_came_out_thin_is_met_by_the_head() -> None:
    """24.0 of head on a board 22.0 thick, trued: 2.0 less. A lower step lets the strings bend less at the nut."""
    thin = "measured.board.thickness=22.0"
    remedy = proved("redpoll", thin)["stock/size"].remedy
    assert [(way.says, way.set) for way in ways_of(remedy)][:2] == [
        ("a head 12 mm thick", {"head.thickness": 12.0}),
        ("step the head down by 8 mm (head/break-angle then warns)", {"head.drop": 8.0}),
    ]
    for way in ways_of(remedy):
        assert found_all("redpoll", thin, *as_overrides(way.set))["stock/size"].verdict in ("pass", "warn")
    for way in ways_of(remedy)[:2]:
        assert found_all("redpoll", thin, *as_overrides(way.set)).passed
        assert found_all("redpoll", thin, *as_overrides(way.set))["stock/size"].verdict == "pass"


def test_once_something_is_cut_it_says_what_must_not_be_done_yet() -> None:
    thin = ("measured.board.thickness=23.0", "measured.channel.run.depth=9.3")
    ways = ways_of(found_all("redpoll", *thin)["stock/size"].remedy)
    assert [(way.says, way.only_if) for way in ways] == [
        ("a head 13 mm thick", ""),
        ("if the head is not sawn yet: step the head down by 9 mm", "the head is not sawn yet"),
    ]


def test_another_rod_may_be_had_until_the_fretboard_is_on() -> None:
    long = ("measured.rod.length=458",)
    ways = ways_of(found_all("redpoll", *long)["wall/rod-end"].remedy)
    assert {key for way in ways for key in way.set} == {"heel.wood_ends_at", "measured.rod.length"}
    assert ways[-1].says.endswith(", in place of the one that was measured")
    assert "wall/rod-end" not in failing_of(found_all("redpoll", *long, *as_overrides(ways[-1].set)))
    on = (*long, "measured.neck.thickness.fret_12=22.5")
    ways = ways_of(found_all("redpoll", *on)["wall/rod-end"].remedy)
    assert {key for way in ways for key in way.set} <= {"heel.wood_ends_at"}


def test_a_blank_too_deep_at_both_ends_is_made_smaller_at_both() -> None:
    """The head 24.0 deep, the heel 24.0: on a board of 22.0 neither alone is enough."""
    thin = ("heel.depth=24", "measured.board.thickness=22")
    ways = ways_of(found_all("redpoll", *thin)["stock/size"].remedy)
    assert [way.set for way in ways][:2] == [
        {"head.thickness": 12.0, "heel.depth": 22.0},
        {"head.drop": 8.0, "heel.depth": 22.0},
    ]
    assert ways[0].says == "a head 12 mm thick and a heel 22 mm deep"
    assert found_all("redpoll", *thin, *as_overrides(ways[0].set)).passed


def test_no_rod_is_changed_in_a_neck_that_is_carved() -> None:
    """Nor the channel: a thickness is measured over the fretboard, which is on."""
    for over in (
        ("redpoll", "measured.neck.thickness.fret_1=18.2"),
        ("wheatear", "measured.neck.thickness.fret_1=20.5"),
        ("redpoll", *THIN),
    ):
        before = found_all(*over)
        walls = [f for f in before.findings if f.verdict == "fail" and f.check.startswith("wall/")]
        assert walls
        assert all(finding.remedy is None for finding in walls)
    carved = design("redpoll", "measured.neck.thickness.fret_1=18.2")
    for key, value in (("rod.height", 8.6), ("rod.adjuster.axis_below_top", 4.0), ("channel.key_clearance", 0.4)):
        assert layout_with(carved, {key: value}) is None, key
    assert layout_with(carved, {"measured.channel.run.depth": 9.4}) is None
    assert layout_with(carved, {"rod.length": 410.0}) is None
    assert layout_with(carved, {"adjusting_key.length": 180.0}) is not None


def test_a_step_too_small_under_a_glued_fretboard_is_not_cut_on() -> None:
    over = ("measured.channel.run.depth=9.1", "measured.neck.thickness.fret_1=20.4")
    finding = proved("redpoll", *over)["fit/run"]
    assert finding.remedy is None
    assert finding.says.endswith(
        "; what lies under the fretboard can no longer be changed, and no remedy was found in what is still to be cut"
    )
