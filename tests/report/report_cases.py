"""Reports made once for all tests, and a page of one opened in a browser."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from neck_runs import built, checked
from numpy.typing import NDArray
from waiting import HANGS, PAGE_HANGS, until

from neckmodel.checks import check
from neckmodel.design import read
from neckmodel.findings import Findings
from neckmodel.layout import lay_out
from neckmodel.report import report
from neckmodel.solids import build
from neckmodel.solids.parts import Parts

THIN = ("neck.thickness.fret_1=18", "neck.thickness.fret_12=20")  # its channel comes too near to the back
WREN = Path(__file__).parents[1] / "samples" / "wren.toml"  # stated in inches

# --no-sandbox: a browser refuses to run as root in its sandbox, and the pages are our own
PLAIN = ("--no-sandbox", "--disable-gpu-sandbox")
GRAPHICS = (*PLAIN, "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
DESK, PHONE = (1120, 760), (390, 844)


@dataclass(frozen=True)
class Case:
    parts: Parts
    findings: Findings
    text: str


@cache
def case(name: str) -> Case:
    """ "redpoll" passes, "thin" is a redpoll that fails, "wren" is stated in inches."""
    if name == "wren":
        parts = build(lay_out(read(WREN)))
        findings = check(parts)
    else:
        over = THIN if name == "thin" else ()
        parts, findings = built("redpoll", *over), checked("redpoll", *over)
    return Case(parts, findings, report(parts, findings))


@contextmanager
def launched(play: Any, flags: tuple[str, ...]) -> Iterator[Any]:
    """play: the running library, of which there can be only one."""
    browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=list(flags), timeout=1e3 * HANGS)
    try:
        yield browser
    finally:
        browser.close()


@dataclass
class Opened:
    """A page opened from disk with the network off. wrong: errors and warnings of the console, and every request for
    anything else than the file itself."""

    page: Any
    wrong: list[str] = field(default_factory=list)

    @classmethod
    @contextmanager
    def of(cls, browser: Any, path: Path, size: tuple[int, int] = DESK, **more: Any) -> Iterator[Opened]:
        view = {"width": size[0], "height": size[1]}
        context = browser.new_context(offline=True, viewport=view, reduced_motion="reduce", **more)
        context.set_default_timeout(1e3 * PAGE_HANGS)
        page = context.new_page()
        opened, address = cls(page), path.resolve().as_uri()
        page.on("console", lambda message: opened.wrong.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: opened.wrong.append(str(error)))
        page.on("request", lambda request: opened._asked(request.url, address))
        try:
            page.goto(address)
            yield opened
        finally:
            context.close()

    def _asked(self, url: str, address: str) -> None:
        if url.partition("#")[0] != address and not url.startswith("data:"):
            self.wrong.append(f"request for {url}")

    def ready(self) -> None:
        self.until("document.getElementById('scene').dataset.ready === 'true'")
        self.drawn()

    def until(self, expression: str) -> None:
        """Wait until an expression holds. (The library's own waiting makes code from text, which the page forbids.)"""
        until(lambda: self.page.evaluate(expression), expression, PAGE_HANGS)

    def tapped(self, what: str, expression: str) -> None:
        """Tap until an expression holds: the click comes after the touch, and a page that is still scrolling, as a busy
        machine's is for long, takes a touch for the end of that."""
        looks = 0

        def taken() -> bool:
            nonlocal looks
            if looks % 250 == 0:
                self.drawn()
                self.page.locator(what).tap()
            looks += 1
            return bool(self.page.evaluate(expression))

        until(taken, f"{expression} after taps", PAGE_HANGS)

    def drawn(self) -> None:
        """Wait until what was asked for has been drawn: two frames of the browser."""
        self.page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def unfold(self) -> None:
        """Press what the checks that pass are folded under."""
        self.page.locator("#findings summary").click()

    def eye(self) -> NDArray[np.float64]:
        """Where the view is looked at from, (3,) mm."""
        self.drawn()
        return np.array(self.page.locator("#scene").get_attribute("data-eye").split(), float)

    def picture(self) -> NDArray[np.int64]:
        """The view as it stands on the screen, (rows, columns, 3), 0 to 255."""
        from PIL import Image

        self.drawn()
        shot = self.page.locator("#scene").screenshot()
        return np.asarray(Image.open(io.BytesIO(shot)).convert("RGB")).astype(np.int64)

    def look(self, name: str) -> None:
        self.page.locator(f"[data-look={name}]").click()
        self.drawn()

    def cut(self, axis: str, at: float | None = None) -> None:
        self.page.locator(f"[name=cut][value={axis}]").check()
        if at is not None:
            self.page.locator("#cut-number").fill(str(at))
        self.drawn()


def cut_colour(parts: Parts, name: str) -> NDArray[np.float64]:
    """What a part's cut face is filled with: its own colour, 55 % of the way to white."""
    own = np.array(parts[name].colour)
    return 255 * (own + (1 - own) * 0.55)


def painted(picture: NDArray[np.int64], colour: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which pixels have a colour, within what rounding does to it."""
    return np.asarray((np.abs(picture - colour) <= 2.0).all(axis=2))
