"""For every test: property tests try the same examples each time, and are not held to a time each."""

from __future__ import annotations

import shutil
import signal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

SHARED = ("jigs", "report")
HERE = Path(__file__).resolve().parent

# a run in the background, or one that outlives its terminal, starts with these ignored; commands that the tests start
# would inherit that, and never stop as a maker's do
for number in ("SIGINT", "SIGHUP"):
    if hasattr(signal, number) and signal.getsignal(getattr(signal, number)) is signal.SIG_IGN:
        signal.signal(getattr(signal, number), signal.SIG_DFL)

settings.register_profile(
    "repeatable", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=False
)
settings.load_profile("repeatable")


def group_of(path: Path) -> str:
    """Tests of one group run in one process: those of a file, and those of the files that look at the same few things,
    which take long to make (jigs), or that drive one browser (report)."""
    place = path.relative_to(HERE)
    return next((room for room in SHARED if room in place.parts[:-1]), place.as_posix())


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        item.add_marker(pytest.mark.xdist_group(group_of(item.path)))


@pytest.fixture
def poppler() -> None:
    """For tests that look at a PDF through a reader that is not this project's."""
    if shutil.which("pdftoppm") is None or shutil.which("pdffonts") is None:
        pytest.skip("poppler-utils is not installed")
