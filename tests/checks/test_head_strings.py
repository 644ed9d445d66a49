"""A tuner for each string, and the angle by which each bends down over the nut; by hand and from the layout alone."""

from __future__ import annotations

import math
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import manifold3d
import pytest

import neckmodel
from neckmodel import presets
from neckmodel.checks.measure.strings import string_ways
from neckmodel.checks.registry import about, functions
from neckmodel.checks.remedies.remedy import ways_of
from neckmodel.checks.strings import check_head_strings
from neckmodel.design import read
from neckmodel.errors import DesignError
from neckmodel.findings import Finding
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.json.layout import layout_json
from neckmodel.work.neck import drill

FOLDER = Path(neckmodel.__file__).resolve().parents[1] / "presets"
LEVEL = ("head.tuners.2.string_height=8", "head.tuners.5.string_height=8")  # redpoll's far posts as high as the others


def laid_out(name: str, *overrides: str) -> Layout:
    return lay_out(read(FOLDER / f"{name}.toml", overrides))


def found(name: str, *overrides: str) -> dict[str, Finding]:
    layout = laid_out(name, *overrides)
    bench = cast(Any, SimpleNamespace(layout=layout, design=layout.design))
    return {finding.check: finding for finding in check_head_strings(bench)}


def angle(name: str, *overrides: str) -> Finding:
    return found(name, *overrides)["head/break-angle"]


# --- the angle -------------------------------------------------------------------------------------------------------
def test_the_angle_by_hand() -> None:
    """redpoll's string 4, 0.43 thick, leaves the nut at y 4.19, its underside 7.47 over the glue plane and 8.86 at fret
    12, 320 away. Tuner 6 stands 126 from the nut at y 15, on a face 10 deep; the string leaves its post 5.5 higher.
    atan(12.19/126.46) = 5.50 degrees down, atan(1.39/320) = 0.25 up."""
    way = next(way for way in laid_out("redpoll").head_ways if way.string == 4)
    assert way.tuner == "tuner-6"
    down = math.degrees(math.atan((7.47 + 0.215 + 10 - 5.5) / math.hypot(126, 15 - 4.19)))
    assert way.fall == pytest.approx(down, abs=0.005)
    assert way.bend == pytest.approx(down - math.degrees(math.atan(1.39 / 320)), abs=0.005)
    assert angle("redpoll").measured == pytest.approx(5.25, abs=0.01)


def test_an_inclined_head_bends_the_strings_by_about_its_angle() -> None:
    """garganey's head leans back by 10 degrees: at tuner 3, 145 along it, the face is 145 sin 10 = 25.2 down."""
    way = laid_out("garganey").head_ways[2]
    lean, along = math.radians(10), 145.0
    x = 6 + along * math.cos(lean) + 8 * math.sin(lean)
    z = -along * math.sin(lean) + 8 * math.cos(lean)
    line = laid_out("garganey").frets.strings[2]
    run = math.hypot(x, -17.0 - line.y_nut)
    assert way.fall == pytest.approx(math.degrees(math.atan((line.z_nut + line.diameter / 2 - z) / run)), abs=1e-9)


@pytest.mark.parametrize("name", [name for name in presets.names() if name != "godwit"])  # it has no head
def test_every_preset_bends_its_strings_enough(name: str) -> None:
    both = found(name)
    assert [finding.verdict for finding in both.values()] == ["pass", "pass"]
    count = len(laid_out(name).frets.strings)
    assert both["head/tuner-count"].says == f"{count} tuners for {count} strings"
    assert len(both["head/break-angle"].more) == count


def test_under_five_degrees_is_a_finding_with_its_strings() -> None:
    low = angle("redpoll", *LEVEL)
    assert (low.verdict, low.limit, low.unit) == ("warn", 5.0, "degrees")
    assert low.measured == pytest.approx(4.13, abs=0.01)
    assert low.says == (
        "strings 3 and 4 bend down over the nut by 4.1 degrees only, on the way to tuner-3 and tuner-6: under 5 "
        "degrees a string may buzz in the nut or leave it"
    )
    assert angle("redpoll", *LEVEL, "limits.head_break_angle=4").verdict == "pass"
    assert angle("redpoll", "limits.head_break_angle=6").verdict == "warn"


# --- what helps ------------------------------------------------------------------------------------------------------
DUNNOCK = ("head.tuners.1.string_height=8", "head.tuners.3.string_height=8")


@pytest.mark.parametrize(("name", "level", "ways"), [("redpoll", LEVEL, 2), ("dunnock", DUNNOCK, 3)])
def test_each_remedy_is_enough_and_no_more_than_that(name: str, level: tuple[str, ...], ways: int) -> None:
    """String trees and lower posts; on dunnock, whose step is shallow, a deeper one too, in
    half millimetres. Half a millimetre the other way (of the step: 0.6) is not enough: the aim is 0.05 degrees over,
    0.1 mm on the way to a post."""
    remedies = ways_of(angle(name, *level).remedy)
    assert len(remedies) == ways
    for remedy in remedies:
        settings = [f"{key}={value}" for key, value in remedy.set.items()]
        assert angle(name, *level, *settings).verdict == "pass"
        for key, value in remedy.set.items():
            if not key.endswith(".x"):
                back = -0.6 if key == "head.drop" else 0.5
                assert angle(name, *level, *settings, f"{key}={float(value) + back}").verdict == "warn"


def test_a_tree_is_told_by_its_place_and_how_low_it_holds() -> None:
    """Half way between nut and tuner 3 or 6 at 120: 57 from the head line. There the face is 10 deep; the underside may
    stand `7.47 - tan(5.05 + 0.25) 63.2 + 10 - ...` = 11.6 over it."""
    remedy = angle("redpoll", *LEVEL).remedy
    assert remedy is not None
    tree = ways_of(remedy)[0]
    assert tree.says == (
        "string trees on the head, x along its face from the head line: strings 3 and 4 at x -57.0 mm, held no higher "
        "than 11.6 mm over the face"
    )
    assert tree.set["head.tuners.2.tree.x"] == -57.0
    by_hand = 7.47 + 10 - math.tan(math.radians(5.05 + 0.249)) * math.hypot(63, (15 - 4.19) / 2)
    assert 0 <= by_hand - float(tree.set["head.tuners.5.tree.height"]) < 0.1


def test_a_tree_over_the_keys_way_says_so() -> None:
    """Tuners near the centre line take their strings over the slot that redpoll's key is put in by."""
    near = ("head.tuners.2.y=-8", "head.tuners.5.y=8", *LEVEL)
    remedy = angle("redpoll", *near).remedy
    assert remedy is not None
    assert ways_of(remedy)[0].says.endswith("; screwed clear of the key's way")


def test_a_tree_holds_its_string_down() -> None:
    """To 8 mm over the face, 57 from the head line: atan((7.49 + 10 - 8)/63.2), less the rise of 0.25 degrees."""
    tree = ("head.tuners.2.tree.x=-57", "head.tuners.2.tree.height=8")
    layout = laid_out("redpoll", *LEVEL, *tree)
    way = next(way for way in layout.head_ways if way.tuner == "tuner-3")
    assert len(way.points) == 3
    z = layout.frets.strings[2].z_nut
    assert way.fall == pytest.approx(math.degrees(math.atan((z + 2) / math.hypot(63, 6.07))), abs=0.02)
    assert "string 4 bends" in angle("redpoll", *LEVEL, *tree).says
    # the strings among which the key is turned take the same way
    cube = manifold3d.Manifold.cube((0.2, 0.2, 0.2), True).translate(way.points[1])
    straight = laid_out("redpoll", *LEVEL)
    inside = [(string_ways(of, -150.0, 20.0)["string-3"] ^ cube).volume() for of in (layout, straight)]
    assert inside == [pytest.approx(0.008, rel=0.05), 0.0]  # two stretches that meet leave a notch beside their joint


def test_a_tree_that_stands_too_high_does_nothing_and_is_told() -> None:
    high = angle("redpoll", *LEVEL, "head.tuners.5.tree.x=-57", "head.tuners.5.tree.height=18")
    assert high.says.endswith("; the tree of tuner-6 stands higher than its string and does nothing")
    assert high.measured == angle("redpoll", *LEVEL).measured


def test_a_tree_behind_its_tuner_is_refused() -> None:
    says = "head.tuners[5].tree.x = -130: does not lie between the nut and its tuner; allowed is more than -120 mm"
    with pytest.raises(DesignError, match=re.escape(says)):
        laid_out("redpoll", "head.tuners.5.tree.x=-130", "head.tuners.5.tree.height=8")


# --- as many tuners as strings ---------------------------------------------------------------------------------------
TUNER = "{x = -40, y = 11, hole = 8, housing = {length = 20, width = 14}}"


@pytest.mark.parametrize(
    ("count", "says"),
    [
        (5, "5 tuners for 6 strings: 1 string has none; list every tuner in head.tuners"),
        (3, "3 tuners for 6 strings: 3 strings have none; list every tuner in head.tuners"),
        (1, "1 tuner for 6 strings: 5 strings have none; list every tuner in head.tuners"),
        (7, "7 tuners for 6 strings: 1 hole too many would be drilled; take them out of head.tuners"),
    ],
)
def test_as_many_tuners_as_strings(count: int, says: str) -> None:
    both = found("redpoll", f"head.tuners=[{', '.join([TUNER] * count)}]")
    assert (both["head/tuner-count"].verdict, both["head/tuner-count"].says) == ("fail", says)
    assert (both["head/tuner-count"].measured, both["head/tuner-count"].limit) == (count, 6)
    assert both["head/tuner-count"].spare == -abs(count - 6)
    assert both["head/break-angle"].verdict == "skipped"


def test_pairs_need_a_tuner_for_each_string_and_no_tuners_are_no_finding_here() -> None:
    assert found("pipit")["head/tuner-count"].limit == 8
    assert found("redpoll", "head.tuners=[]") == {}


# --- where it is told ------------------------------------------------------------------------------------------------
def test_both_are_registered_and_explained() -> None:
    assert check_head_strings in functions()
    assert "5 degrees" in about("head/break-angle").limit
    assert about("head/break-angle").source == "common practice, no source"
    assert about("head/tuner-count").limit == "as many tuners as strings"


def test_trees_and_bends_stand_in_the_layout_and_in_the_order_of_work() -> None:
    layout = laid_out("whimbrel")
    data = layout_json(layout)
    assert data["tuners"][3]["tree"] == {"along_face": -52.0, "height": 10.0}
    assert data["tuners"][0]["tree"] is None
    assert [row["string"] for row in data["over_nut"]] == [1, 2, 3, 4, 5, 6, 7]
    assert data["over_nut"][3]["tuner"] == "tuner-4"
    work = drill(layout)
    assert work is not None
    told = [line for line in work.says if line.startswith("String tree")]
    assert len(told) == 3
    assert told[1].startswith("String tree of tuner 4: 52.00 mm from the head line along the face.")
