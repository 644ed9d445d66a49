"""Bounds of processor time that an ordinary run of the tests does not hold anything to: they depend on the machine."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from neckmodel import presets
from neckmodel.design import read, read_text
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.variants import vary_tolerance
from neckmodel.variants.tolerance.errors import shares

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / room) for room in ("samples", "design/reading", "layout/drawings", "oracle")]

import sweep  # noqa: E402
from ends_samples import with_drawing  # noqa: E402
from hostile_drawings import CASES, Hostile  # noqa: E402
from strength_samples import findings  # noqa: E402
from test_hard_cases import HARD  # noqa: E402
from test_hostile import FILES  # noqa: E402


def seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def refused(work: Callable[[], object]) -> None:
    with pytest.raises(DesignError):
        work()


def test_strength_takes_less_than_fifty_milliseconds(preset: str) -> None:
    layout = lay_out(read(presets.folder() / f"{preset}.toml"))
    assert min(seconds(lambda: findings(layout)) for _ in range(5)) < 0.050


@pytest.mark.parametrize("draw", [shares, vary_tolerance])
def test_a_hundred_thousand_necks_take_less_than_two_seconds(draw: Callable[[object], object]) -> None:
    layout = lay_out(read(presets.folder() / "garganey.toml"))
    assert seconds(lambda: draw(layout)) < 2.0


def test_twenty_four_fret_slots_take_less_than_a_second_and_a_half() -> None:
    from neckmodel.solids.fretboard import fretboard_solid

    made = lay_out(read(presets.folder() / "redpoll.toml", ("fretboard.frets=24",))).fretboard
    assert len(made.slots) == 24
    assert seconds(lambda: fretboard_solid(made)) < 1.5


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_hostile_drawing_is_refused_within_two_seconds(case: Hostile, tmp_path: Path) -> None:
    design = with_drawing(tmp_path, case.data, case.file)
    assert seconds(lambda: refused(lambda: lay_out(design))) < 2.0


@pytest.mark.parametrize("name", FILES)
def test_a_hostile_file_is_refused_within_two_seconds(name: str, tmp_path: Path) -> None:
    file = tmp_path / "siskin.toml"
    file.write_bytes(FILES[name])
    assert seconds(lambda: refused(lambda: read(file))) < 2.0


def test_twenty_thousand_unknown_sections_are_refused_within_two_seconds() -> None:
    text = (TESTS / "design" / "reading" / "siskin.toml").read_text(encoding="utf-8") + "".join(
        f"[s{n}]\n" for n in range(20_000)
    )
    assert min(seconds(lambda: refused(lambda: read_text(text))) for _ in range(3)) < 2.0


@pytest.mark.parametrize("seed", HARD)
def test_a_hard_case_takes_no_longer_than_any_design_may(seed: int) -> None:
    told = sweep.one((seed, True), {"cpu_seconds": sweep.MOST["cpu_seconds"]})
    assert told["what"] == "built", told["why"]
