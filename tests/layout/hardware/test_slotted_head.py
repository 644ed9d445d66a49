"""Slotted heads laid out: slots, bores and the strings' way down against formulas by hand, and what is told of them."""

from __future__ import annotations

import math

import pytest
from slot_samples import PLOVER, RAMP, WITH_ROD, laid_out, slots_of, with_strings

from neckmodel.errors import DesignError
from neckmodel.layout.hardware.descent import clearances
from neckmodel.layout.hardware.slots import in_frame, on_head
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.measured.operations import SLOTS, done
from neckmodel.work.measures import measures

WALLS = {("tuner-1", "face"): 5.0, ("tuner-1", "back"): 5.0, ("tuner-1", "tuner-4"): 5.263}


def test_the_wood_beside_the_slots() -> None:
    """Half width 30 from the head line: 32 + 4 x 30/190 = 32.632, less the edge's 9 and the width's 15, twice 8.632."""
    pair = slots_of(laid_out())
    assert pair.half == pytest.approx(32.632, abs=5e-4)
    assert pair.narrowest == -30.0
    assert pair.half - pair.outer == pytest.approx(9.0)
    assert pair.core == pytest.approx(17.263, abs=5e-4)


def test_the_wood_round_the_bores() -> None:
    walls = {(wall.tuner, wall.to): wall.wood for wall in slots_of(laid_out()).bore_walls()}
    for which, wood in WALLS.items():
        assert walls[which] == pytest.approx(wood, abs=5e-4)
    assert walls["tuner-1", "slot"] == 45.0 - 5.0 - 30.0  # from the bore's side to the slot's near end
    assert walls["tuner-3", "slot"] == 150.0 - 115.0 - 5.0


def test_a_string_over_the_near_end_and_over_a_ramp() -> None:
    """From 8.6 over the nut, x_b -6, 14 degrees: u = -6 cos 14 - 8.6 sin 14 = -7.902, w = -6 sin 14 + 8.6 cos 14 =
    6.893; to a roller's top at u 45, w -5."""
    bare, ramped = laid_out(text=PLOVER.replace(RAMP, "")), laid_out()
    turn, y = math.radians(14.0), slots_of(bare).middle
    start = on_head(bare.head, (0.0, y, 8.6))
    assert -start[0] == pytest.approx(-6.0 * math.cos(turn) - 8.6 * math.sin(turn))
    assert start[2] == pytest.approx(-6.0 * math.sin(turn) + 8.6 * math.cos(turn))
    end = (-45.0, y, -5.0)
    ((where, room, _),) = clearances(start, end, slots_of(bare))
    assert (where, room) == ("near end", pytest.approx(-1.628, abs=5e-4))
    first, last = clearances(start, end, slots_of(ramped))
    assert first[:2] == ("ramp's start", pytest.approx(1.520, abs=5e-4))
    assert last[:2] == ("ramp's lower edge", pytest.approx(3.468, abs=5e-4))


@pytest.mark.parametrize("y", [17.0, 12.0, 8.0, 3.0, 0.5])
@pytest.mark.parametrize("far", [-45.0, -80.0, -115.0])
@pytest.mark.parametrize("ends", ["round", "squared"])
@pytest.mark.parametrize("ramp", [RAMP, ""], ids=["ramp", "bare"])
def test_the_least_room_by_walking_along_the_string(y: float, far: float, ends: str, ramp: str) -> None:
    """The wood under each of 40,001 places of the string: face, ramp or, in the slot, none. The string falls by less
    than 0.5 in 1, and a step is 0.003 mm: the two agree within 0.002."""
    pair = slots_of(laid_out(f"head.slots.ends={ends}", text=PLOVER.replace(RAMP, ramp)))
    start, end = (7.9, y, 6.9), (far, pair.middle, -5.0)
    least, lowest, tilt = math.inf, pair.ramp_start, math.tan(math.radians(20.0))
    for k in range(40001):
        u, v, w = (a + (b - a) * k / 40000 for a, b in zip(start, end, strict=True))
        off = abs(v - pair.middle)
        inside = off < pair.width / 2
        if inside and u < pair.near - pair.radius + math.sqrt(max(pair.radius**2 - off**2, 0.0)):
            break
        over_ramp = ramp and inside and lowest > u > pair.near - pair.radius
        least = min(least, w + (lowest - u) * tilt if over_ramp else w)
    assert min(room for _, room, _ in clearances(start, end, pair)) == pytest.approx(least, abs=2e-3)


def test_strings_go_to_the_tuners_from_outside_inward() -> None:
    assert [roller.string for roller in laid_out().rollers] == [1, 2, 3, 6, 5, 4]
    stated = laid_out(text=with_strings([3, 2, 1, 4, 5, 6]))
    assert [roller.string for roller in stated.rollers] == [3, 2, 1, 4, 5, 6]
    assert [way.tuner for way in stated.head_ways] == [f"tuner-{k}" for k in (3, 2, 1, 4, 5, 6)]


def test_each_string_falls_to_its_rollers_top() -> None:
    layout = laid_out()
    roller = layout.rollers[0]
    string, way = layout.frets.strings[0], layout.head_ways[0]
    top = in_frame(layout.head, -45.0, -slots_of(layout).middle, -5.0 + string.diameter / 2)
    assert way.points[-1] == pytest.approx(top)
    run = math.hypot(top[0], top[1] - string.y_nut)
    fall = math.degrees(math.atan2(string.z_nut + string.diameter / 2 - top[2], run))
    assert (roller.string, way.fall) == (1, pytest.approx(fall))


def test_places_told_on_the_face_and_back() -> None:
    head = laid_out().head
    assert on_head(head, in_frame(head, -45.0, 3.0, -10.0)) == pytest.approx((-45.0, 3.0, -10.0))


def test_what_json_and_stations_tell() -> None:
    layout = laid_out()
    data = layout_json(layout)
    slots, tuner = data["head_slots"], data["tuners"][3]
    assert (slots["cheek"], slots["core"]) == (pytest.approx(9.0), pytest.approx(17.26316, abs=1e-5))
    assert (tuner["side"], tuner["string"], tuner["into_core"]) == ("treble", 6, 6.0)
    assert tuner["y_end"] == pytest.approx(8.63158 - 6.0, abs=1e-5)
    stations = {station["name"]: station["x"] for station in data["stations"]}
    turn = math.cos(math.radians(14.0))
    assert stations["head's slots begin"] == pytest.approx(-6.0 - 30.0 * turn, abs=1e-4)
    assert stations["ramps begin"] == pytest.approx(-6.0 - 16.0 * turn, abs=1e-4)


def test_a_left_hand_has_its_bass_side_where_its_treble_was() -> None:
    right, left = layout_json(laid_out()), layout_json(laid_out("design.hand=left"))
    for one, other in zip(right["tuners"], left["tuners"], strict=True):
        assert one["side"] == other["side"]
        assert (one["y"], one["y_end"]) == (-other["y"], -other["y_end"])


def test_sizes_taken_where_none_are_stated() -> None:
    """Common practice: a slotted head is angled back and 20 thick, its rollers go 6 into the core."""
    text = PLOVER.replace('instrument = "nylon-string"\n', "")
    layout = laid_out(text=text)
    assert (layout.head.kind, layout.head.thickness) == ("angled", 20.0)
    assert {roller.into_core for roller in layout.rollers} == {6.0}
    assert slots_of(layout).ends == "round"


def test_scarfed_heads_and_two_scales_too() -> None:
    scarfed = laid_out("head.kind=scarfed", text=WITH_ROD)
    assert slots_of(scarfed).core == pytest.approx(17.263, abs=5e-4)
    slanted = laid_out("strings.scale={bass = 660, treble = 640, square_fret = 7}", "head.starts_at=-10")
    ways = slanted.head_ways
    assert ways[0].points[0][0] != ways[-1].points[0][0]
    assert len(slanted.descents) == 6


@pytest.mark.parametrize(
    ("sets", "key", "says"),
    [
        (("head.slots.width=24",), "head.slots.width", "leaves no wood between the slots"),
        (("head.tuners.0.into_core=18",), "head.tuners[0].into_core", "goes right through"),
    ],
)
def test_what_leaves_no_core_is_refused(sets: tuple[str, ...], key: str, says: str) -> None:
    with pytest.raises(DesignError) as refused:
        laid_out(*sets)
    assert (refused.value.problems[0].key, says in str(refused.value)) == (key, True)


def test_what_is_measured_after_boring_and_slotting() -> None:
    """Each row with a key takes that key's planned value back, so that it can be written under [measured]."""
    layout = laid_out()
    rows = dict(measures(layout))["After boring and slotting the head"]
    told = {row.key: row.nominal for row in rows if row.key}
    assert told["head.slots.width"] == 15.0
    assert told["head.tuners.3.below_face"] == 10.0
    assert next(row.nominal for row in rows if row.says == "slots: wood between them") == pytest.approx(
        17.263, abs=5e-4
    )


def test_what_was_measured_counts() -> None:
    """Slots routed 0.3 too wide: the core is what is left of it, and no remedy puts wood back."""
    measured = laid_out("measured.head.slots.width=15.3")
    assert slots_of(measured).core == pytest.approx(17.263 - 0.6, abs=5e-4)
    assert SLOTS in done(measured).surely
