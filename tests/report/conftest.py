"""A real browser, without a network, for the tests that open a report from disk."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from report_cases import GRAPHICS, Opened, case, launched


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with each case's report."""
    folder = tmp_path_factory.mktemp("reports")
    for name in ("redpoll", "thin", "wren"):
        (folder / f"{name}.html").write_text(case(name).text, encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def play() -> Iterator[Any]:
    """The library that drives the browser. Its package is `chromium` in Debian."""
    if shutil.which("chromium") is None:
        pytest.skip("chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def browser(play: Any) -> Iterator[Any]:
    """With WebGL, drawn by software."""
    with launched(play, GRAPHICS) as opened:
        yield opened


@pytest.fixture(scope="session")
def opened_once(browser: Any, pages: Path) -> Iterator[Callable[[str, tuple[int, int]], Opened]]:
    """A case's report at a size of screen, its view drawn, scrolled to its top. It is opened once for all tests that
    only look at it: what presses, types or changes anything opens one of its own."""
    kept: dict[tuple[str, tuple[int, int]], Opened] = {}
    with ExitStack() as stack:

        def give(name: str, size: tuple[int, int]) -> Opened:
            if (name, size) not in kept:
                kept[name, size] = stack.enter_context(Opened.of(browser, pages / f"{name}.html", size))
                kept[name, size].ready()
            opened = kept[name, size]
            opened.page.evaluate("scrollTo(0, 0)")
            return opened

        yield give
        assert [opened.wrong for opened in kept.values() if opened.wrong] == []


@pytest.fixture
def redpoll(browser: Any, pages: Path) -> Iterator[Opened]:
    """The redpoll's report at the size of a desk's screen, its view drawn; what went wrong on the way is empty."""
    with Opened.of(browser, pages / "redpoll.html") as opened:
        opened.ready()
        yield opened
        assert opened.wrong == []
