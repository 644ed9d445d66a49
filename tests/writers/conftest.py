"""Built once for all tests of the writers: the sample parts, a job, and one export of everything."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import writer_samples as samples

from neckmodel.solids.parts import Part
from neckmodel.writers import write
from neckmodel.writers.base import Job
from neckmodel.writers.manifest import Manifest


@pytest.fixture(scope="session")
def parts() -> tuple[Part, ...]:
    return samples.parts()


@pytest.fixture(scope="session")
def job(parts: tuple[Part, ...]) -> Job:
    return Job(samples.NAME, parts, samples.findings(), samples.LAYOUT, samples.DESIGN)


@pytest.fixture(scope="session")
def failed_job(job: Job) -> Job:
    return replace(job, findings=samples.findings(fail=True))


@pytest.fixture(scope="session")
def export(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Manifest]:
    folder = tmp_path_factory.mktemp("export") / "deep" / "sample"
    return folder, write(samples.Built(samples.parts()), samples.findings(), folder, **samples.options())


@pytest.fixture
def export_to(parts: tuple[Part, ...], tmp_path: Path) -> Iterator[Any]:
    """Export quickly: GLB only, unless told otherwise. Nothing half-written may be left at the end."""

    def run(place: Path, fail: bool = False, **more: Any) -> Manifest:
        given = samples.options(**{"formats": ["glb"], **more})
        return write(samples.Built(parts), samples.findings(fail), place, **given)  # type: ignore[arg-type]

    yield run
    assert [*tmp_path.rglob(".*.part"), *tmp_path.rglob(".*.old")] == []
