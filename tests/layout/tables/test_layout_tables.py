"""The layout's tables: told on a page and on a terminal from the same rows, and true to the layout's numbers."""

from __future__ import annotations

import re

import pytest
from layout_samples import laid_out

from neckmodel import presets
from neckmodel.cli.terminal import tables as terminal
from neckmodel.layout import Layout
from neckmodel.layout.tables import Voice, rod, strings, wood
from neckmodel.report import tables as page
from neckmodel.report.tables import layout_tables
from neckmodel.units import from_mm

CASES = [
    (name, over)
    for name in presets.names()
    for over in (
        (),
        ("workshop.cutters=[{diameter=20.0, flute_length=25.0, stick_out=40.0}]",),
        ("design.hand='left'",),
    )
]
BOTH = [make for make in terminal.SHOWN if make in page.SHOWN]
# columns, and rows by their first words, that only one of the two has room for
PAGE_ONLY = {strings.strings: {"length"}, wood.screws: {"hole"}}
TERMINAL_ROWS = ("board", "rods that would fit", "  to a length of")


def numbers(cell: str) -> list[str]:
    return re.findall(r"-?\d+\.\d+", cell)


@pytest.mark.parametrize(("name", "over"), CASES)
def test_page_and_terminal_tell_the_same_numbers(name: str, over: tuple[str, ...]) -> None:
    layout = laid_out(name, *over)
    for make in BOTH:
        full, terse = make(layout, Voice("mm")), make(layout, Voice("mm", terse=True))
        kept = [at for at, column in enumerate(full.columns) if column not in PAGE_ONLY.get(make, ())]
        rows = [row for row in terse.rows if not row[0].startswith(TERMINAL_ROWS)]
        assert len(kept) == len(terse.columns), make.__name__
        assert len(rows) == len(full.rows), make.__name__
        for one, other in zip(full.rows, rows, strict=True):
            told = [numbers(one[at]) if not one[at].startswith("none: ") else [] for at in kept]
            assert told == [numbers(cell) for cell in other], make.__name__


def test_only_these_tables_stand_in_one_place_alone() -> None:
    assert set(page.SHOWN) - set(terminal.SHOWN) == {wood.recesses}
    assert set(terminal.SHOWN) - set(page.SHOWN) == {strings.trueness}


@pytest.mark.parametrize("name", presets.names())
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_numbers_are_the_layouts_own(name: str, unit: str) -> None:
    layout = laid_out(name)
    told = strings.frets(layout, Voice(unit)).rows
    places, decimals = [fret.x for fret in layout.fretted], 2 if unit == "mm" else 3
    near = 0.51 * 10**-decimals
    assert [float(row[1].split()[0]) for row in told] == pytest.approx([from_mm(x, unit) for x in places], abs=near)
    assert all(f" {unit}" in cell for row in told for cell in row[1:])
    # what each fret is from the last adds up to the last one's place, but for the rounding of each
    total = sum(float(row[2].split()[0]) for row in told)
    assert total == pytest.approx(from_mm(places[-1], unit), abs=near * len(told))
    depths = [float(row[5].split()[0]) for row in rod.channel(layout, Voice("mm")).rows]
    assert depths == pytest.approx([step.from_face.depth_start for step in layout.steps], abs=0.0051)
    assert [row[0] for row in wood.stations(layout, Voice(unit)).rows] == [s.name for s in layout.stations]


def printed(layout: Layout, capsys: pytest.CaptureFixture[str]) -> list[str]:
    terminal.show_layout(layout)
    return [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]


@pytest.mark.parametrize("name", presets.names())
def test_every_row_is_printed(name: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "300")
    layout = laid_out(name)
    lines = printed(layout, capsys)
    for make in terminal.SHOWN:
        table = make(layout, Voice(layout.design.design.units, terse=True))
        assert (table.title in lines) == bool(table.rows), table.title
        for row in table.rows:
            assert " ".join(" ".join(row).split()) in lines, table.title


def test_a_missing_cutter_is_explained_in_both(capsys: pytest.CaptureFixture[str]) -> None:
    layout = laid_out("redpoll", "workshop.cutters=[{diameter=20.0, flute_length=25.0, stick_out=40.0}]")
    why = layout.cuttings[0].says
    assert why
    cells = next(table for table in layout_tables(layout) if table.title == "Cutting").rows
    assert cells[0][1] == f"none: {why}"
    assert why in " ".join(printed(layout, capsys))


def test_a_rod_adjusted_at_the_heel_is_placed_by_its_nut_side_end() -> None:
    """`from_nut` is then the rod's nut-side end, so that is what the bounds are bounds of."""
    layout = laid_out("whimbrel")
    assert layout.rod is not None
    assert layout.rod.at_heel
    for voice in (Voice("mm"), Voice("mm", terse=True)):
        said = {row[0].strip(): row[1] for row in rod.rod(layout, voice).rows}
        assert float(said["rod's nut-side end may lie from x"].split()[0]) == pytest.approx(layout.rod.x_min, abs=0.005)


def test_a_floor_deepest_between_its_ends_is_told_there() -> None:
    """Under wheatear's bent rod: its axis 9.5 deep in the middle, half of 5.0 and 0.15 below it; redpoll's is level."""
    table = rod.channel(laid_out("wheatear"), Voice("mm"))
    run = dict(zip(table.columns, next(row for row in table.rows if row[0] == "run"), strict=True))
    assert (run["depth from"], run["deepest"]) == ("9.10 mm", "12.15 mm")
    assert "deepest" not in rod.channel(laid_out("redpoll"), Voice("mm")).columns
