"""A real browser, without a network, for the tests that open a report from disk."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
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


@pytest.fixture
def redpoll(browser: Any, pages: Path) -> Iterator[Opened]:
    """The redpoll's report at the size of a desk's screen, its view drawn; what went wrong on the way is empty."""
    with Opened.of(browser, pages / "redpoll.html") as opened:
        opened.ready()
        yield opened
        assert opened.wrong == []
