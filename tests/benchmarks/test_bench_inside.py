"""Times inside one process, the kernel loaded: reading, laying out, building, checking, writing."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

import neckmodel
from neckmodel import presets
from neckmodel.design import Design

LAYOUT_MS = 5.0
CHECKS_S = 1.5  # median over the presets, after the kernel's import


@pytest.mark.benchmark(group="inside: read")
def test_read(benchmark: BenchmarkFixture, preset: str) -> None:
    benchmark(neckmodel.read, presets.folder() / f"{preset}.toml")


@pytest.mark.benchmark(group="inside: lay_out")
def test_lay_out(benchmark: BenchmarkFixture, design: Design) -> None:
    benchmark(neckmodel.lay_out, design)
    assert benchmark.stats is not None
    assert 1e3 * benchmark.stats.stats.min < LAYOUT_MS


@pytest.mark.benchmark(group="inside: build")
def test_build(benchmark: BenchmarkFixture, design: Design) -> None:
    layout = neckmodel.lay_out(design)
    benchmark.pedantic(neckmodel.build, (layout,), rounds=3, warmup_rounds=1)


@pytest.mark.benchmark(group="inside: check")
def test_check(benchmark: BenchmarkFixture, design: Design) -> None:
    """Fresh solids each time: the kernel keeps meshes on a shape, which would flatter the second run."""
    layout = neckmodel.lay_out(design)
    benchmark.pedantic(neckmodel.check, setup=lambda: ((neckmodel.build(layout),), {}), rounds=3, warmup_rounds=1)


@pytest.mark.benchmark(group="inside: write step and stl")
def test_write(benchmark: BenchmarkFixture, design: Design, tmp_path: Path) -> None:
    layout = neckmodel.lay_out(design)
    findings = neckmodel.check(neckmodel.build(layout))
    benchmark.pedantic(
        neckmodel.write,
        setup=lambda: ((neckmodel.build(layout), findings, tmp_path / "export"), {}),
        rounds=2,
    )


def test_the_median_of_all_checks_is_within_its_target() -> None:
    import statistics
    import time

    took = []
    for name in presets.names():
        layout = neckmodel.lay_out(neckmodel.read(presets.folder() / f"{name}.toml"))
        rounds = []
        for _ in range(3):
            parts = neckmodel.build(layout)
            start = time.process_time()
            neckmodel.check(parts)
            rounds.append(time.process_time() - start)
        took.append(min(rounds))
    assert statistics.median(took) < CHECKS_S, dict(zip(presets.names(), took, strict=True))
