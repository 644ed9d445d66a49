"""DXF as another program reads it: re-read by ezdxf in mm and in inches; units by the published DXF reference."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from ezdxf.filemanagement import readfile
from ezdxf.path import make_path
from sheet_cases import INCHES, ROUTED, layout_of, sheet_of, sheets_of

from neckmodel.errors import ExportError
from neckmodel.layout.channel.step import Step, plain
from neckmodel.sheets import draw
from neckmodel.sheets.views.plan import fret_line
from neckmodel.writers.drawings.dxf import DxfWriter, dxf_bytes, problems
from neckmodel.writers.drawings.pages import DrawnJob

PER_UNIT = {"mm": 1.0, "inch": 25.4}


def read_back(page: Any, unit: str, folder: Path) -> Any:
    path = folder / f"{unit}.dxf"
    path.write_bytes(dxf_bytes(page, unit))
    return readfile(path)


def flat_area(entity: Any, per_unit: float) -> float:
    """mm2, by the shoelace of the outline flattened to 0.0001 of the file's unit."""
    points = list(make_path(entity).flattening(1e-4))
    return abs(sum(a.x * b.y - b.x * a.y for a, b in itertools.pairwise(points))) / 2 * per_unit**2


def step_area(step: Step) -> float:
    """Closed form: the rectangle, less two corners at each end, each `r2 (1 - pi/4)`."""
    lost = sum(2 * min(r, step.width / 2) ** 2 * (1 - math.pi / 4) for r in (step.corner_start, step.corner_end))
    return step.width * (step.x_end - step.x_start) - lost


def opens(step: Step, steps: Sequence[Step]) -> bool:
    """Whether another step begins, ends or lies at either of its ends."""
    near = [other for other in steps if other is not step and other.y == step.y]
    return any(other.x_start - 1e-6 <= x <= other.x_end + 1e-6 for other in near for x in (step.x_start, step.x_end))


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("name", ROUTED)
def test_pockets(name: str, unit: str, tmp_path: Path) -> None:
    layout = layout_of(name, 'channel.ends="round"')
    document = read_back(draw("pockets", layout, None, ("long",))[0].pages[0], unit, tmp_path)
    assert document.audit().errors == []
    assert document.header["$INSUNITS"] == {"mm": 4, "inch": 1}[unit]
    assert document.header["$MEASUREMENT"] == {"mm": 1, "inch": 0}[unit]
    space, per_unit = document.modelspace(), PER_UNIT[unit]
    rounds = 0
    for step in (one for one in layout.steps if not one.bored):
        found = list(space.query(f'*[layer=="{plain(step.name)}"]'))
        assert [(entity.dxftype(), entity.closed) for entity in found] == [("LWPOLYLINE", True)]
        area = flat_area(found[0], per_unit)
        xs = [x * per_unit for x, *_ in found[0].get_points()]
        if not opens(step, layout.steps):
            assert area == pytest.approx(step_area(step), abs=0.02)  # flattening loses below 1e-4 of the outline's mm
            assert (min(xs), max(xs)) == pytest.approx((step.x_start, step.x_end), abs=1e-9)
        arcs = [part for part in found[0].virtual_entities() if part.dxftype() == "ARC"]
        assert all(arc.dxf.radius * per_unit == pytest.approx(max(step.corner_start, step.corner_end)) for arc in arcs)
        rounds += len(arcs)
        words = [text.dxf.text for text in space.query('TEXT[layer=="notes"]')]
        assert any(word.startswith(f"{plain(step.name)}: ") and "deep" in word for word in words)
    expected = sum(2 * (bool(step.corner_start) + bool(step.corner_end)) for step in layout.steps)
    # a full round's two quarters are two arcs all the same; pipit's bar keeps its square ends
    assert rounds == expected
    assert (rounds > 0) == (layout.rod is not None)


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_fretboard_slots_and_outline(unit: str, tmp_path: Path) -> None:
    """redpoll: L 640, so fret 12 at 320; widths by the closed form S0 + 2 m0 = 42.6 at the nut."""
    layout = layout_of("redpoll")
    document = read_back(sheet_of("redpoll", "fretboard", "long").pages[0], unit, tmp_path)
    space, per_unit = document.modelspace(), PER_UNIT[unit]
    slots = list(space.query('LINE[layer=="fret slots"]'))
    assert [slot.dxf.start.x * per_unit for slot in slots] == pytest.approx(
        [640 * (1 - 2 ** (-n / 12)) for n in range(1, 23)]
    )
    (outline,) = space.query('LWPOLYLINE[layer=="fretboard"]')
    assert outline.closed
    board = layout.fretboard
    near, far = 42.6, 2 * board.half_width(board.x_end)
    assert flat_area(outline, per_unit) == pytest.approx((near + far) / 2 * board.x_end, abs=0.01)


def test_slanted_frets_meet_the_edges() -> None:
    """whimbrel's frets go from edge to edge through their places at the outer strings, which each scale length puts
    at its own `L (1 - 2**(-n/12))` from its own end of the nut; fret 9 is the square one."""
    layout = layout_of("whimbrel")
    bass, treble = layout.frets.strings[0], layout.frets.strings[-1]
    for fret in layout.frets.frets:
        (x0, y0), (x1, y1) = fret_line(layout, fret)
        assert (-y0, y1) == pytest.approx((layout.fretboard.half_width(x0), layout.fretboard.half_width(x1)))
        share = 1 - 2 ** (-fret.number / 12)
        for string in (bass, treble):
            x = string.x_nut + (string.x_bridge - string.x_nut) * share
            y = string.y_nut + (string.y_bridge - string.y_nut) * share
            assert x0 + (x1 - x0) * (y - y0) / (y1 - y0) == pytest.approx(x, abs=1e-6)
        assert (abs(x1 - x0) < 1e-9) == (fret.number == 9)


def test_head_on_its_face(tmp_path: Path) -> None:
    """garganey's head falls by 10 degrees: on the face it is 190 long and tuner 1 lies at -55, not at its plan."""
    document = read_back(sheet_of("garganey", "head", "long").pages[0], "mm", tmp_path)
    space = document.modelspace()
    (outline,) = space.query('LWPOLYLINE[layer=="head"]')
    xs = [x for x, *_ in outline.get_points()]
    assert outline.closed
    assert (min(xs), max(xs)) == pytest.approx((-190.0, 0.0), abs=1e-9)
    holes = [(hole.dxf.center.x, hole.dxf.center.y, hole.dxf.radius) for hole in space.query("CIRCLE")]
    assert holes[0] == pytest.approx((-55.0, -17.0, 7.0))


@pytest.mark.parametrize("name", ["redpoll", INCHES])
def test_every_drawing_is_clean_and_as_large_as_meant(name: str, tmp_path: Path) -> None:
    for unit in PER_UNIT:
        for sheet in sheets_of(name):
            if "dxf" in sheet.formats:
                path = tmp_path / "one.dxf"
                path.write_bytes(dxf_bytes(sheet.pages[0], unit))
                assert problems(path, sheet.pages[0], unit) == []


def test_a_file_of_another_unit_or_with_less_in_it_is_noticed(tmp_path: Path) -> None:
    job = DrawnJob("redpoll", (sheet_of("redpoll", "pockets", "long"),))
    writer = DxfWriter()
    (target,) = writer.targets(job)
    path = tmp_path / target.file
    path.write_bytes(dxf_bytes(job.sheets[0].pages[0], "inch"))
    with pytest.raises(ExportError, match="its unit is 1, not 4"):
        writer.verify(job, target, path)
    less = draw("pockets", layout_of("garganey"), None, ("long",))[0].pages[0]
    path.write_bytes(dxf_bytes(less))
    with pytest.raises(ExportError, match="its layers hold"):
        writer.verify(job, target, path)


def test_stations_of_the_marking_out_drawing(tmp_path: Path) -> None:
    layout = layout_of("redpoll")
    space = read_back(sheet_of("redpoll", "marking-out", "long").pages[0], "mm", tmp_path).modelspace()
    ticks = [line.get_points()[0][0] for line in space.query("LWPOLYLINE")]
    for station in layout.stations:
        assert min(abs(tick - station.x) for tick in ticks) < 1e-4, station.name
