"""What was measured at the bench overrides the plan: layout, steps, kinds of numbers, and mistakes in it."""

from __future__ import annotations

from typing import Any

import pytest
from neck_runs import PRESETS, design, laid_out

from neckmodel.design import changed
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.as_json import layout_json
from neckmodel.layout.measured import as_built, numbers_of


def test_every_nominal_value_entered_as_measured_changes_nothing() -> None:
    """Every length that [measured] takes, at the value that the layout's JSON gives, for every preset."""
    for preset in PRESETS:
        plan = layout_json(laid_out(preset))
        over = {f"measured.{number['key']}": number["value"] for number in plan["numbers"]}
        assert len(over) > 60
        built = layout_json(lay_out(changed(design(preset), over)))
        assert {number["type"] for number in built["numbers"]} == {"measured"}
        assert {n["key"]: n["planned"] for n in built["numbers"]} == {n["key"]: n["value"] for n in plan["numbers"]}
        assert all(step["as_built"] == ["x_start", "x_end", "width", "depth"] for step in built["channel"])
        assert _without(built) == _without(plan)


def _without(data: dict[str, Any]) -> dict[str, Any]:
    """A layout's JSON without what tells stated and measured apart."""
    bare = {key: value for key, value in data.items() if key not in ("numbers", "design_sha256")}
    return bare | {"channel": [{k: v for k, v in step.items() if k != "as_built"} for step in data["channel"]]}


def test_a_channel_too_deep_leaves_less_wood() -> None:
    """0.3 deeper: 0.294 less wall, for it is taken aslant (4.895 of the run as planned, at x 17)."""
    plan, built = laid_out("redpoll"), laid_out("redpoll", "measured.channel.run.depth=9.6")
    run = built.step("run")
    assert (run.depth, plan.step("run").depth) == (9.6, pytest.approx(9.3))
    assert plan.walls[0].wall == pytest.approx(4.895, abs=1e-3)
    assert plan.walls[0].wall - built.walls[0].wall == pytest.approx(0.294, abs=0.006)
    assert [n.key for n in as_built(built)] == ["channel.run.depth"]
    assert built.steps[1:] == plan.steps[1:]
    assert as_built(plan) == ()


def test_measured_sizes_override_what_is_stated_and_what_is_set() -> None:
    layout = laid_out("redpoll", "measured.neck.thickness.fret_1=19.2", "neck.thickness.fret_1=25")
    assert layout.back.t_1 == 19.2
    assert layout.design.plan.neck.thickness.fret_1 == 25.0
    kinds = {number.key: (number.origin, number.planned) for number in numbers_of(layout)}
    assert kinds["neck.thickness.fret_1"] == ("measured", 25.0)
    assert kinds["neck.thickness.fret_12"] == ("stated", None)
    assert kinds["head.swell_length"] == ("derived", None)  # a default
    assert kinds["channel.run.depth"] == ("derived", None)


def test_an_open_end_follows_the_end_that_it_runs_into() -> None:
    steps = {s.name: s for s in laid_out("redpoll", "measured.channel.adjuster.x_end=18.5").steps}
    assert steps["adjuster"].x_end == steps["run"].x_start == 18.5
    apart = ("measured.channel.adjuster.x_end=18.5", "measured.channel.run.x_start=17.5")
    assert laid_out("redpoll", *apart).step("run").x_start == 17.5
    assert laid_out("redpoll", *apart).step("adjuster").x_end == 18.5
    front = {s.name: s for s in laid_out("redpoll", "measured.channel.adjuster.x_start=5.2").steps}
    assert front["access-slot"].x_end == 5.2


def test_a_round_end_stays_round() -> None:
    rounded = ("channel.ends=round", "measured.channel.run.width=5.9")
    run = laid_out("redpoll", *rounded).step("run")
    assert (run.width, run.corner_end) == (5.9, pytest.approx(2.95))


def test_the_other_way_to_say_a_length_gives_way() -> None:
    layout = laid_out("redpoll", "measured.fretboard.ends_at=470.5")
    assert layout.fretboard.x_end == 470.5
    assert layout.design.plan.fretboard.past_last_fret == 8.0


def test_inches_are_read_as_in_the_rest_of_the_file() -> None:
    layout = laid_out("redpoll", 'measured.channel.run.depth="3/8 in"')
    assert layout.step("run").depth == pytest.approx(9.525)


@pytest.mark.parametrize(
    ("measured", "says"),
    [
        ("channel.run.depth=96", r"measured\.channel\.run\.depth = 96: is 86\.70 mm off .*; measure it again"),
        ("channel.runs.depth=9", r"has no step 'runs'; its steps are run, adjuster, access-slot"),
        ("channel.run.bottom=9", r"is no measure of a step of the channel"),
        ("channel.adjuster.depth=0.2", r"leaves nothing of this step"),
        ("bars.width=4", r"measured\.bars\.width = 4: there is no \[bars\] in this design"),
        ("neck.thickness.fret_1=99", r"measured\.neck\.thickness\.fret_1 = 99: is too large"),
    ],
)
def test_mistakes_are_told_with_the_measured_key(measured: str, says: str) -> None:
    with pytest.raises(DesignError, match=says):
        lay_out(changed(design("redpoll"), [f"measured.{measured}"]))
