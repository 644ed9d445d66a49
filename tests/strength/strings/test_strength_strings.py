"""The strings' pull against worked examples. Sources are named beside each; "law" means T = 4 L2 f2 mu itself."""

from __future__ import annotations

import math

import pytest
from strength_samples import laid_out

from neckmodel.design import read_text
from neckmodel.strength.strings.pull import press_on_nut, pull_of, tension
from neckmodel.strength.strings.wire import frequency, mass_of_wire


@pytest.mark.parametrize(
    ("note", "hertz"),
    [("A4", 440.0), ("C4", 261.6256), ("E4", 329.6276), ("B3", 246.9417), ("G3", 195.9977), ("E2", 82.4069)],
)
def test_notes_stand_where_iso_16_and_equal_temperament_put_them(note: str, hertz: float) -> None:
    assert frequency(note) == pytest.approx(hertz, abs=5e-5)


def test_sharps_and_flats_meet_and_octaves_double() -> None:
    assert frequency("F#3") == pytest.approx(frequency("Gb3"), rel=1e-12)
    assert frequency("B#3") == pytest.approx(frequency("C4"), rel=1e-12)
    assert frequency("B0") == pytest.approx(frequency("B4") / 16, rel=1e-12)
    with pytest.raises(ValueError, match="such as E2"):
        frequency("H2")


@pytest.mark.parametrize(
    ("length", "grams", "hertz", "newton"),
    [
        (500.0, 3.800, 261.6, 520.10),  # printed answer of a textbook problem: steel wire tuned to middle C
        (700.0, 4.300, 261.6, 823.95),  # university physics, the same problem with other numbers
        (700.0, 4.100, 261.6, 785.63),
    ],
)
def test_wire_tuned_to_middle_c(length: float, grams: float, hertz: float, newton: float) -> None:
    assert tension(length, hertz, grams / (length * 1e-3)) == pytest.approx(newton, abs=0.005)


def test_wave_speed_of_the_textbook_strings() -> None:
    """OpenStax University Physics 1, section 16.3: 56.40 N on 3.09e-4 kg/m run at 427.23 m/s; the thick string of
    5.78e-3 kg/m needs 1055 N for the same speed. The speed is 2 L f, not L f."""
    length, speed = 650.0, 427.23
    assert tension(length, speed / (2 * length * 1e-3), 0.309) == pytest.approx(56.40, abs=0.005)
    assert tension(length, speed / (2 * length * 1e-3), 5.78) == pytest.approx(1055.0, abs=0.05)


def test_linear_density_of_the_textbook_string() -> None:
    """OpenStax University Physics 1, section 16.3: 0.06 kg over 2.00 m is 0.03 kg/m, 3.00e-5 kg a millimetre; so is a
    wire of 7850 kg/m3 and that mass."""
    diameter = math.sqrt(4 * 0.03 / (math.pi * 7850)) * 1e3
    assert mass_of_wire(diameter, 7850.0) == pytest.approx(60.0 / 2.00, rel=1e-12)


def test_the_wave_is_twice_as_long_as_the_string() -> None:
    """0.7000 m at 261.6 Hz: waves run at 2 L f = 366.24 m/s and T = mu v**2; with L f, 183.12 m/s (an error found in
    print), it would be a quarter."""
    mass = 4.300 / 0.7000
    assert tension(700.0, 261.6, mass) == pytest.approx(mass * 1e-3 * 366.24**2, rel=1e-9)
    assert tension(700.0, 261.6, mass) / 4 == pytest.approx(mass * 1e-3 * 183.12**2, rel=1e-9)


def test_frequency_from_tension() -> None:
    """Printed answer 399.2 Hz: 765 N, 0.400 m, 3.00 g."""
    assert tension(400.0, 399.218, 7.5) == pytest.approx(765.0, abs=0.01)


def test_lowest_piano_note() -> None:
    """27.5 Hz, 2.000 m, 1000 N, 7800 kg/m3: mu 0.082645 kg/m and 3.6730 mm (by the law)."""
    assert tension(2000.0, 27.5, 82.645) == pytest.approx(1000.0, abs=0.01)
    assert mass_of_wire(3.6730, 7800.0) == pytest.approx(82.645, rel=3e-5)


@pytest.mark.parametrize(
    ("inches", "note", "newton"), [(0.010, "E4", 72.52), (0.013, "B3", 68.79), (0.017, "G3", 74.10)]
)
def test_plain_steel_at_25_inches_and_a_half(inches: float, note: str, newton: float) -> None:
    assert tension(647.7, frequency(note), mass_of_wire(inches * 25.4, 7850)) == pytest.approx(newton, abs=0.005)


def test_plain_steel_at_640() -> None:
    assert tension(640.0, frequency("E4"), mass_of_wire(0.254, 7850)) == pytest.approx(70.81, abs=0.005)


def test_doubling_length_pitch_or_diameter_takes_four_times_the_pull() -> None:
    base = tension(640.0, 100.0, mass_of_wire(0.3, 7850))
    assert tension(1280.0, 100.0, mass_of_wire(0.3, 7850)) == pytest.approx(4 * base)
    assert tension(640.0, 200.0, mass_of_wire(0.3, 7850)) == pytest.approx(4 * base)
    assert tension(640.0, 100.0, mass_of_wire(0.6, 7850)) == pytest.approx(4 * base)


def test_press_on_the_nut_is_the_vector_sum_of_both_ends() -> None:
    across = math.hypot(100 - 100 * math.cos(math.radians(13)), 100 * math.sin(math.radians(13)))
    assert press_on_nut(100.0, 13.0) == pytest.approx(across, rel=1e-12)


def test_a_preset_pulls_string_by_string() -> None:
    pull = pull_of(laid_out("redpoll").design.strings)
    assert pull.missing is None
    assert pull.each[0] == pytest.approx(4 * 0.64**2 * 82.40689**2 * 7.2e-3, rel=1e-6)  # E2, as stated
    assert pull.each[5] == pytest.approx(70.81, abs=0.005)  # E4, plain steel
    assert pull.total == pytest.approx(sum(pull.each))


HEAD = '[design]\nname = "s"\n[fretboard]\nfrets = 20\n[neck]\njoint_fret = 14\n'
HEAD += "thickness = {fret_1 = 21, fret_12 = 23}\n"
HEAD += '[bars]\nwidth = 5\nheight = 8\nlength = 400\nmaterial = "carbon"\n'
HEAD += "[strings]\ncourses = 3\nscale = 640\nspacing_at_nut = 20\nspacing_at_bridge = 30\n"
NYLON = '{note = "G3", diameter = 1.02, material = "nylon"}'


@pytest.mark.parametrize(
    ("each", "missing"),
    [
        ("", "strings.each"),
        (f'{NYLON}, {{note = "D3", diameter = 0.8}}, {NYLON}', "strings.each[1].mass_per_length"),
        (f'{NYLON}, {NYLON}, {{diameter = 0.8, material = "nylon"}}', "strings.each[2].note"),
    ],
)
def test_what_is_missing_is_named_by_its_key(each: str, missing: str) -> None:
    design = read_text(HEAD + (f"each = [{each}]\n" if each else ""))
    assert pull_of(design.strings).missing == missing


def test_nylon_by_its_density() -> None:
    """Nylon 6/6 is 1140 kg/m3: three 1.02 mm strings at G3."""
    design = read_text(HEAD + f"each = [{NYLON}, {NYLON}, {NYLON}]\n")
    one = 4 * 0.64**2 * 195.99772**2 * 1140 * math.pi * (1.02e-3) ** 2 / 4
    assert pull_of(design.strings).total == pytest.approx(3 * one, rel=1e-6)
