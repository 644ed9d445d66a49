"""Built once for all tests of the writers: the sample parts, a job, and one export of everything."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

import pytest

from neckmodel.writers.base import Bodies, Job
from neckmodel.writers.folders.export import write
from neckmodel.writers.manifest import Manifest

if TYPE_CHECKING:
    from neckmodel.solids.parts import Part


@pytest.fixture(scope="session")
def samples() -> ModuleType:
    """The solids to write. Loaded only when asked for: the tests of drawings in this room need no kernel."""
    return importlib.import_module("writer_samples")


@pytest.fixture(scope="session")
def parts(samples: ModuleType) -> tuple[Part, ...]:
    return samples.parts()


@pytest.fixture(scope="session")
def job(samples: ModuleType, parts: tuple[Part, ...]) -> Job:
    return Job(Bodies(parts), samples.findings(), samples.LAYOUT, samples.DESIGN)


@pytest.fixture(scope="session")
def failed_job(samples: ModuleType, job: Job) -> Job:
    return replace(job, findings=samples.findings(fail=True))


@pytest.fixture(scope="session")
def export(samples: ModuleType, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Manifest]:
    folder = tmp_path_factory.mktemp("export") / "deep" / "sample"
    return folder, write(samples.job(samples.parts()), folder, formats=samples.FORMATS)


@pytest.fixture
def export_to(samples: ModuleType, parts: tuple[Part, ...], tmp_path: Path) -> Iterator[Any]:
    """Export quickly: GLB only, unless told otherwise. Nothing half-written may be left at the end."""

    def run(place: Path, fail: bool = False, **more: Any) -> Manifest:
        return write(samples.job(parts, fail), place, **{"formats": ["glb"], **more})

    yield run
    assert [*tmp_path.rglob(".*.part"), *tmp_path.rglob(".*.old")] == []
