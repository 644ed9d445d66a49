"""What is built and checked with everything remembered equals what is made afresh, to the byte of the STEP file and of
findings.json: over walks of random edits, forward and back.

An ordinary run takes a short walk; the marker `sweep` takes 50 steps over every preset.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from edit_walks import Outcome, outcome, walk
from remembering import using

from neckmodel.design import changed, read
from neckmodel.layout import lay_out
from neckmodel.memory.store import Store
from neckmodel.presets import names, path_of

LONG = 50


def holds(preset: str, steps: int, seed: int, folder: Path) -> int:
    """Walks forward and back, warm and cold; gives how many of the designs were built and checked."""
    store, start = Store(), read(path_of(preset))
    cold: list[Outcome] = []
    walked = walk(preset, steps, seed)
    assert len(walked) == steps + 1
    for settings in walked:
        layout = lay_out(changed(start, settings))
        with using(None):
            cold.append(outcome(layout, folder))
        with using(store):
            assert outcome(layout, folder) == cold[-1], settings
    for settings, expected in reversed(list(zip(walked, cold, strict=True))):
        with using(store):
            assert outcome(lay_out(changed(start, settings)), folder) == expected, settings
    assert len(store) > 50 * steps
    return sum(bool(found.step) for found in cold)


def test_a_short_walk_over_redpoll(tmp_path: Path) -> None:
    assert holds("redpoll", 2, 7, tmp_path) == 3


@pytest.mark.sweep
@pytest.mark.parametrize("preset", names())
def test_a_long_walk(preset: str, tmp_path: Path) -> None:
    assert holds(preset, LONG, 50, tmp_path) > LONG / 2


def test_a_store_too_small_for_a_design_changes_nothing(tmp_path: Path) -> None:
    """Results let go in the middle of a run are made again, and what is then of unknown make is not kept."""
    layout = lay_out(read(path_of("redpoll")))
    with using(None):
        cold = outcome(layout, tmp_path)
    store = Store(entries=25)
    for _ in range(2):
        with using(store):
            assert outcome(layout, tmp_path) == cold
    assert len(store) == 25
