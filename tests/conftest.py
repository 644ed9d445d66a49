"""For every test: property tests try the same examples each time, and are not held to a time each."""

from __future__ import annotations

import shutil
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from remembering import using

HERE = Path(__file__).resolve().parent

# rooms whose files look at the same few things, which take long to make (necks that are checked, jigs, pages), that
# drive one browser (report) or load a large library as a second route (strength)
SHARED = ("jigs", "checks", "cli", "report", "sheets", "strength")
# what takes longest, in this order: of two processes neither is to stand idle at the end while the other begins with it
LONGEST = (
    "checks",
    "jigs",
    "cli",
    "sheets",
    "strength",
    "report",
    "oracle/test_hard_cases.py",
    "solids/neck/test_carving.py",
    "variants/test_offers.py",
    "writers/test_same_bytes.py",
    "layout/wood/test_scarf.py",
    "solids/neck/test_parting.py",
)

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
    """Tests of one group run in one process: those of a file, and those of the files of a room that shares."""
    place = path.relative_to(HERE)
    return next((room for room in SHARED if room in place.parts[:-1]), place.as_posix())


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> object:
    """Deals out whole groups. The plugin's own way by marks fell silent with a newer pytest: it then dealt out single
    tests, so that each process made everything itself and the run took three times as long."""
    from xdist.scheduler import LoadScopeScheduling

    class InGroups(LoadScopeScheduling):  # type: ignore[misc]
        def _split_scope(self, nodeid: str) -> str:
            return group_of(HERE.parent / nodeid.partition("::")[0])

    config.option.loadscopereorder = False  # a count of tests says nothing of their time
    return InGroups(config, log)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """For two processes the longest groups first; a single one keeps to the files' order."""
    if hasattr(config, "workerinput"):
        rank = {group: number for number, group in enumerate(LONGEST)}
        items.sort(key=lambda item: rank.get(group_of(item.path), len(rank)))


RAN_IN: dict[str, str] = {}  # the process of each group


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Holds each group to one process, or the run ends here."""
    where = getattr(report, "worker_id", None)
    if where is not None:
        group = group_of(HERE.parent / report.nodeid.partition("::")[0])
        assert RAN_IN.setdefault(group, where) == where, f"{group} is dealt out to two processes"


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any, error: object) -> None:
    """A process that broke off is told as such; what it leaves goes to another one."""
    if error:
        for group in [group for group, where in RAN_IN.items() if where == node.gateway.id]:
            del RAN_IN[group]


@pytest.fixture(autouse=True)
def nothing_remembered_where_something_is_patched(request: pytest.FixtureRequest) -> Iterator[None]:
    """A result kept from another test would pass by what this one has put in its way, and the other way round."""
    if "monkeypatch" not in request.fixturenames:
        yield
        return
    with using(None):
        yield


@pytest.fixture
def poppler() -> None:
    """For tests that look at a PDF through a reader that is not this project's."""
    if shutil.which("pdftoppm") is None or shutil.which("pdffonts") is None:
        pytest.skip("poppler-utils is not installed")
