"""How a notebook shows a design, a layout and findings."""

from __future__ import annotations

import os
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

from report_cases import case
from waiting import HANGS

import neckmodel
from neckmodel.report.writing import problems

ROOT = Path(neckmodel.__file__).resolve().parents[1]


class Words(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page)

    def handle_data(self, data: str) -> None:
        self.found.append(data)


def run(script: str) -> str:
    """What a script prints in a fresh interpreter."""
    path = os.pathsep.join(part for part in (str(ROOT), os.environ.get("PYTHONPATH", "")) if part)
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": path},
        cwd="/",
        timeout=HANGS,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_each_has_a_display_with_its_chief_values() -> None:
    found = case("thin")
    layout = found.parts.layout
    shown = (
        (layout.design, ("640.00 mm", "18.00 mm, 20.00 mm", "two-way, 420.00 mm over all")),
        (layout, ("fret 12: 320.00 mm", "rod's end at x", "427.00 mm")),
        (found.findings, ("✗ FAIL", "wall/run", "2.44 mm", "3.00 mm")),
    )
    for thing, values in shown:
        page = thing._repr_html_()
        assert problems(page.encode(), page) == []
        words = " | ".join(Words(page).found)
        for value in values:
            assert value in words, value


def test_in_inches_the_design_is_shown_in_inches() -> None:
    words = " | ".join(Words(case("wren").parts.layout.design._repr_html_()).found)  # type: ignore[attr-defined]
    assert "24.313 in (24 5/16)" in words


def test_they_are_shown_whichever_way_they_came() -> None:
    script = (
        "from neckmodel.design import read\n"
        "from neckmodel.layout import lay_out\n"
        f"layout = lay_out(read({str(ROOT / 'presets' / 'redpoll.toml')!r}))\n"
        "print('<svg' in layout._repr_html_(), '420.00 mm over all' in layout.design._repr_html_())\n"
    )
    assert run(script) == "True True"


def test_a_script_gets_them_without_asking_and_without_the_kernel() -> None:
    script = (
        "import sys, neckmodel\n"
        f"design = neckmodel.read({str(ROOT / 'presets' / 'redpoll.toml')!r})\n"
        "layout = neckmodel.lay_out(design)\n"
        "assert 'redpoll' in design._repr_html_() and '<svg' in layout._repr_html_()\n"
        "assert hasattr(neckmodel.Findings, '_repr_html_')\n"
        "heavy = {'OCP', 'cadquery', 'trimesh', 'scipy', 'manifold3d', 'lib3mf', 'typer'}\n"
        "print(sorted(heavy & {name.split('.')[0] for name in sys.modules}))\n"
    )
    assert run(script) == "[]"


def test_parts_are_shown_with_their_sizes_and_volumes() -> None:
    """Redpoll's board: 700 x 65 x 24 mm, 1092 cm3."""
    parts = case("thin").parts
    page = parts._repr_html_()
    assert problems(page.encode(), page) == []
    found = Words(page).found
    at = found.index("board")
    assert found[at : at + 6] == ["board", "stock", "700.00 mm", "65.00 mm", "24.00 mm", "1092.0 cm³"]
    assert {part.name for part in parts.parts} <= set(found)
    assert "<svg" in page
