"""Strings by what a maker knows: a mass, a tension, plain wire, or core and wraps."""

from __future__ import annotations

import math
import re

import jsonschema
import pytest
from strength_samples import findings, laid_out

from neckmodel.cli.terminal.tables import show_layout
from neckmodel.design import read_text, remarks
from neckmodel.design.schema import json_schema
from neckmodel.design.tables.strings import Strings
from neckmodel.errors import DesignError
from neckmodel.strength import estimate
from neckmodel.strength.strings.pull import mass_of_wound, pull_of, tension
from neckmodel.strength.strings.wire import frequency, mass_of_wire

HEAD = """
[design]
name = "s"
units = "UNIT"
[fretboard]
frets = 20
[neck]
joint_fret = 14
thickness = {fret_1 = "21 mm", fret_12 = "23 mm"}
[bars]
width = "5 mm"
height = "8 mm"
length = "400 mm"
material = "carbon"
[strings]
courses = 3
scale = "SCALE mm"
spacing_at_nut = "20 mm"
spacing_at_bridge = "30 mm"
"""


def strings(*each: str, scale: float = 642.0, unit: str = "mm") -> Strings:
    text = HEAD.replace("UNIT", unit).replace("SCALE", str(scale))
    return read_text(f"{text}each = [{', '.join([*each, *each, *each][:3])}]\n").strings


# worked out by hand from the rings of round wire
BRONZE_E2 = '{note = "E2", wound = {core = 0.46, wrap = 0.43, material = "bronze"}}'
NYLON_D3 = '{note = "D3", wound = {core = 0.5, on = "nylon", wrap = 0.12, material = "copper"}}'
BASS_E1 = '{note = "E1", wound = {core = 0.9, wrap = [0.4, 0.42], material = "nickel-steel"}}'


@pytest.mark.parametrize(
    ("each", "outside", "mass", "pull"),
    [(BRONZE_E2, 1.320, 9.671, 108.27), (NYLON_D3, 0.740, 1.869, 66.42), (BASS_E1, 2.540, 32.486, 90.93)],
)
def test_a_wound_string_by_core_and_wraps(each: str, outside: float, mass: float, pull: float) -> None:
    found = strings(each)
    assert found.each[0].diameter == pytest.approx(outside, abs=1e-9)
    known = pull_of(found)
    assert known.masses[0] == pytest.approx(mass, abs=5e-4)
    assert known.each[0] == pytest.approx(pull, abs=5e-3)


@pytest.mark.parametrize("each", [BRONZE_E2, NYLON_D3, BASS_E1])
def test_a_wrap_weighs_what_its_wire_does(each: str) -> None:
    """Second route: the wire's length in one metre by its helix, turn touching turn. A ring is the helix without its
    rise, shorter by less than (d_w/(pi D))**2/2: 0.5 % for the thickest wire here."""
    wound = strings(each).each[0].wound
    assert wound is not None
    density = {"bronze": 8860.0, "nickel-steel": 7900.0, "copper": 8960.0}[wound.material]
    mass, under = mass_of_wire(wound.core, 1140.0 if wound.on == "nylon" else 7850.0), wound.core
    for wire in wound.wrap:
        turns, round_ = 1 / wire, math.pi * (under + wire)  # turns a mm of string; mm once round
        mass += mass_of_wire(wire, density) * turns * math.hypot(round_, wire)
        under += 2 * wire
    assert mass_of_wound(wound) == pytest.approx(mass, rel=0.013)
    assert mass_of_wound(wound) < mass


def test_a_solid_wire_of_the_same_diameter_is_heavier() -> None:
    """Between round turns there is air: a wrap fills pi/4 of its ring, and the whole string less than solid metal."""
    wound = strings(BRONZE_E2).each[0].wound
    assert wound is not None
    ring = 8.860 * math.pi / 4 * (1.32**2 - 0.46**2)
    assert mass_of_wound(wound) - mass_of_wire(0.46, 7850.0) == pytest.approx(math.pi / 4 * ring, rel=1e-12)


def test_a_stated_tension_is_the_pull_and_tells_the_mass() -> None:
    """63 N of E2 at 650 mm: mu = T/(4 L**2 f**2) = 5.489 g/m; without a note the pull is known and the mass is not."""
    known = pull_of(strings('{note = "E2", diameter = 0.9, tension = 63}', scale=650.0))
    assert known.each == (63.0, 63.0, 63.0)
    assert known.masses[0] == pytest.approx(5.489, abs=5e-4)
    assert tension(650.0, frequency("E2"), known.masses[0] or 0.0) == pytest.approx(63.0, rel=1e-12)
    silent = pull_of(strings("{diameter = 0.9, tension = 63}", scale=650.0))
    assert (silent.each[0], silent.masses[0], silent.missing) == (63.0, None, None)
    assert known.estimated == silent.estimated == ""


def test_a_neck_is_judged_by_stated_tensions_alone() -> None:
    each = ", ".join(f"{{diameter = 1.0, tension = {force}}}" for force in (63, 68, 70, 54, 53, 67))
    strength = estimate(laid_out("redpoll", f"strings.each=[{each}]"))
    assert strength.load.pull == pytest.approx(375.0)
    assert findings(laid_out("redpoll", f"strings.each=[{each}]"))["strength/relief"].verdict != "skipped"


def test_wires_in_inches() -> None:
    """An inch file: 0.018 in of core and 0.017 in of wrap are 0.4572 and 0.4318 mm."""
    one = strings('{note = "E2", wound = {core = 0.018, wrap = 0.017, material = "bronze"}}', unit="in").each[0]
    assert one.wound is not None
    assert (one.wound.core, *one.wound.wrap) == pytest.approx((0.4572, 0.4318))
    assert one.diameter == pytest.approx(0.052 * 25.4)


@pytest.mark.parametrize(
    ("each", "says"),
    [
        (
            '{note = "E2", diameter = 1, mass_per_length = 5, tension = 63}',
            "strings.each[0].tension = 63: is stated beside mass_per_length; keep one of the two",
        ),
        (
            '{note = "E2", diameter = 1, material = "steel", tension = 63}',
            'strings.each[0].material = "steel": is stated beside tension; keep one of the two',
        ),
        (BRONZE_E2.replace("}}", "}, tension = 9}"), "is stated beside tension; keep one of the two"),
        ('{note = "E2", tension = 63}', "strings.each[0].diameter: is missing; it means: outside diameter"),
        (BRONZE_E2.replace('"bronze"', '"brass"'), 'allowed are "bronze", "nickel-steel", "stainless", "copper"'),
        (BRONZE_E2.replace("0.43", "[]"), "strings.each[0].wound.wrap = []: has 0 items; allowed are 1 to 4"),
        (BRONZE_E2.replace("0.43", "[0.4, 9]"), "strings.each[0].wound.wrap[1] = 9: is too large"),
        (BRONZE_E2.replace("core = 0.46, ", ""), "strings.each[0].wound.core: is missing"),
    ],
)
def test_what_cannot_be_is_refused_by_its_key(each: str, says: str) -> None:
    with pytest.raises(DesignError, match=re.escape(says)):
        strings(each, '{note = "G3", diameter = 0.4, material = "steel"}')


def test_a_diameter_that_is_not_core_and_wraps_is_remarked() -> None:
    """0.05 is what flattened wire may take off; more is probably another string."""
    text = HEAD.replace("UNIT", "mm").replace("SCALE", "642")

    def remarked(diameter: float) -> list[str]:
        wound = BRONZE_E2.replace('"E2"', f'"E2", diameter = {diameter}')
        return [said for said in remarks(read_text(f"{text}each = [{wound}, {wound}, {wound}]")) if "core" in said]

    assert remarked(1.27) == remarked(1.37) == []
    assert remarked(1.4)[0] == (
        "strings.each[0].diameter = 1.4 is not the 1.32 mm that its core and wraps come to: the mass follows from "
        "these, the spacing from the diameter"
    )


def test_what_is_estimated_says_so() -> None:
    setting = f"strings.each.0={BRONZE_E2}"
    basis = findings(laid_out("redpoll", setting))["strength/relief"].basis
    assert "; mass of string 1 by core and wraps, right to some 5 %" in basis
    assert "memory" not in basis  # phosphor bronze is in the tables
    basis = findings(laid_out("redpoll", setting, f"strings.each.2={NYLON_D3}"))["strength/relief"].basis
    assert "masses of strings 1 and 3 by core and wraps" in basis
    assert "(density of copper from memory, not verified)" in basis
    assert "core and wraps" not in findings(laid_out("redpoll"))["strength/relief"].basis


def test_each_strings_pull_and_mass_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    """In the tables of `layout`, and as numbers beside strength/relief."""
    layout = laid_out("redpoll", f"strings.each.0={BRONZE_E2}", 'strings.each.1={note="A2",diameter=0.9,tension=63}')
    show_layout(layout)
    lines = capsys.readouterr().out.partition("Pull of")[2].splitlines()
    rows = {line.split()[0]: line.split()[1:] for line in lines[1:5]}
    assert rows["1"] == ["E2", "about", "9.67", "g/m", "about", "107.6", "N"]
    assert rows["2"] == ["A2", "3.18", "g/m", "63.0", "N"]
    more = findings(layout)["strength/relief"].more
    assert (more["pull_2"], more["mass_2"]) == (63.0, pytest.approx(63 / (4 * 0.64**2 * 110**2) * 1e3, abs=1e-4))
    assert more["mass_1"] == pytest.approx(9.6709, abs=1e-4)


def test_the_schema_takes_what_the_reader_takes() -> None:
    schema = {**json_schema()["$defs"]["String"], "$defs": json_schema()["$defs"]}
    wound = {"core": 0.46, "wrap": 0.43, "material": "bronze"}
    for good in ({"wound": wound}, {"wound": {**wound, "wrap": [0.2, "0.2 mm"]}}, {"diameter": 1.0, "tension": 60}):
        jsonschema.validate(good, schema)
    for bad in ({"tension": 60}, {"wound": {**wound, "wrap": []}}, {"diameter": 1.0, "tension": 0}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(bad, schema)
