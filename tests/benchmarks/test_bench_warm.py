"""Processor time from an edit to all findings in one process, beside the same made afresh."""

from __future__ import annotations

import statistics
import sys
import time

import pytest
from remembering import using

import neckmodel
from neckmodel import presets
from neckmodel.design import changed
from neckmodel.errors import DesignError
from neckmodel.memory.store import Store

EDITED = ("rod_place.from_nut", "neck.thickness.fret_1", "fretboard.radius.nut", "fretboard.thickness", "heel.depth")
SHARE = 0.75  # of the time that all of it takes afresh, at most, in the median; measured: 0.65


def seconds(design: neckmodel.Design) -> float:
    start = time.process_time()
    neckmodel.check(neckmodel.build(neckmodel.lay_out(design)))
    return time.process_time() - start


def edits(preset: str) -> list[tuple[str, neckmodel.Design]]:
    """The preset with one number moved by a hundredth, for each that it states and that may be moved so."""
    design, found = neckmodel.read(presets.folder() / f"{preset}.toml"), []
    for key in EDITED:
        try:
            stated: object = design
            for part in key.split("."):
                stated = getattr(stated, part)
            edited = changed(design, {key: round(1.01 * float(str(stated)), 2)})
            neckmodel.lay_out(edited)
        except (AttributeError, ValueError, DesignError):
            continue
        found.append((key, edited))
    return found


def test_an_edit_costs_less_than_the_whole(capsys: pytest.CaptureFixture[str]) -> None:
    warm, cold = [], []
    for name in presets.names():
        design = neckmodel.read(presets.folder() / f"{name}.toml")
        with using(None):
            seconds(design)
            cold.append(seconds(design))
        for key, edited in edits(name):
            with using(Store()):
                seconds(design)
                warm.append(seconds(edited))
            with capsys.disabled():
                sys.stdout.write(f"{name:10} {key:24} {warm[-1]:5.2f} s, all of it {cold[-1]:.2f} s\n")
    assert len(warm) >= 12
    assert statistics.median(warm) < SHARE * statistics.median(cold)
