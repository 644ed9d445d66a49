"""DXF: one entity for each mark, true arcs, layers in plain words, in mm or in inches; the same bytes each time."""

from __future__ import annotations

import io
import math
import threading
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from neckmodel.errors import ExportError
from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.display import Circle, Drawing, Layer, Mark, Path, Text, Window
from neckmodel.sheets.marks.sketch import bounds
from neckmodel.units import MM_PER_INCH
from neckmodel.writers.base import Target, refuse
from neckmodel.writers.drawings.pages import SheetJob, pages_of, targets

VERSION = "R2010"  # AC1024, read by programs of the last fifteen years
INSUNITS = {"mm": 4, "inch": 1}
"""$INSUNITS of the DXF reference: 1 inches, 4 millimetres."""
METRIC = {"mm": 1, "inch": 0}
"""$MEASUREMENT of the DXF reference: 0 imperial, 1 metric."""
PER_UNIT = {"mm": 1.0, "inch": MM_PER_INCH}
ACI = (7, 5, 1, 3, 6, 30, 140, 200, 34, 132, 230, 94, 14, 174, 54, 22, 84, 214, 150, 44, 124, 8, 190, 114)
"""Colour numbers of the DXF reference, one a layer in its order: 7 is black on white and white on black. They tell
layers apart and carry no other meaning."""
_LOCK = threading.Lock()


@dataclass(frozen=True)
class DxfWriter:
    """DXF files: each drawing in one file, in mm or inches."""

    name: str = "dxf"
    suffix: str = ".dxf"
    says: str = "drawings for machines, a layer for each step"

    def targets(self, job: SheetJob) -> tuple[Target, ...]:
        """One file for each sheet that can become DXF, or for each of its pages."""
        if job.unit not in INSUNITS:
            raise ExportError(f"DXF unit {job.unit!r} is not known; it is one of: {', '.join(INSUNITS)}")
        return targets(job, self.name, self.suffix, paged=False)

    def write(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Writes the drawing."""
        page = pages_of(job, self.name, self.suffix, target, paged=False)[0]
        path.write_bytes(dxf_bytes(page, job.unit, job.remark))

    def verify(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Compares the file with the drawing, through the library that reads DXF."""
        page = pages_of(job, self.name, self.suffix, target, paged=False)[0]
        refuse(path, problems(path, page, job.unit))


def dxf_bytes(page: Drawing, unit: str = "mm", remark: str = "") -> bytes:
    """One DXF file. unit: "mm" or "inch"."""
    from ezdxf.filemanagement import new

    with _fixed_stamps():
        document = new(VERSION, setup=False, units=INSUNITS[unit])
        document.header["$MEASUREMENT"] = METRIC[unit]
        document.header["$LUNITS"] = 2  # decimal
        document.header.custom_vars.append("Title", f"{page.title} - {remark}" if remark else page.title)
        document.layers.remove("Defpoints")  # the library's own, as "0" is; that one the format asks for
        for number, layer in enumerate(page.layers()):
            _add_layer(document, layer, unit, ACI[number % len(ACI)])
        space = document.modelspace()
        for mark in page.marks:
            _add(space, mark, 1 / PER_UNIT[unit])
        low_x, low_y, high_x, high_y = (value / PER_UNIT[unit] for value in bounds(page.marks))
        space.dxf.extmin, space.dxf.extmax = (low_x, low_y, 0.0), (high_x, high_y, 0.0)
        document.header["$EXTMIN"], document.header["$EXTMAX"] = space.dxf.extmin, space.dxf.extmax
        _sort_classes(document)
        text = io.StringIO()
        document.write(text)
    return text.getvalue().encode("utf-8")


@contextmanager
def _fixed_stamps() -> Iterator[None]:
    """ezdxf writes fixed dates and ids inside; its switch applies to the whole process."""
    from ezdxf._options import options

    with _LOCK:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _sort_classes(document: Any) -> None:
    """The library lists classes in the order of a set, which differs from process to process."""
    document.classes.add_required_classes(document.dxfversion)
    known = document.classes.classes
    for key in sorted(known):
        known.move_to_end(key)


def _add_layer(document: Any, layer: Layer, unit: str, colour: int) -> None:
    name = "CONTINUOUS"
    if layer.dash:
        name = f"dashes {layer.name}"
        dashes = layer.dash * (1 if len(layer.dash) % 2 == 0 else 2)
        pattern = [length / PER_UNIT[unit] * (1 if k % 2 == 0 else -1) for k, length in enumerate(dashes)]
        document.linetypes.add(name, [sum(map(abs, pattern)), *pattern], description=layer.name)
    document.layers.add(layer.name, color=colour, linetype=name, lineweight=_weight(layer.pen))


def _weight(pen: float) -> int:
    """The nearest line weight that DXF knows, hundredths of mm."""
    known = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
    return min(known, key=lambda weight: abs(weight - 100 * pen))


def _add(space: Any, mark: Mark, scale: float) -> None:
    if isinstance(mark, Window):
        raise ValueError("a page of windows cannot be a DXF file")
    own = {"layer": mark.layer.name}
    if isinstance(mark, Circle):
        space.add_circle(_scaled(mark.at, scale), mark.radius * scale, dxfattribs=own)
    elif isinstance(mark, Text):
        from ezdxf.enums import TextEntityAlignment

        align = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}[mark.anchor]
        text = space.add_text(mark.says, height=mark.height * scale, rotation=mark.turn, dxfattribs=own)
        text.set_placement(_scaled(mark.at, scale), align=TextEntityAlignment[align])
    else:
        _add_path(space, mark, scale, own)


def _add_path(space: Any, mark: Path, scale: float, own: dict[str, str]) -> None:
    stretches = list(mark.stretches())
    if len(stretches) == 1 and not mark.closed:
        (start, end, bulge), *_ = stretches
        if bulge == 0:
            space.add_line(_scaled(start, scale), _scaled(end, scale), dxfattribs=own)
            return
        centre, radius, angle, turned = arc_of(start, end, bulge)
        first, last = sorted((0.0, turned))
        ends = [math.degrees(angle + first) % 360, math.degrees(angle + last) % 360]
        space.add_arc(_scaled(centre, scale), radius * scale, *ends, dxfattribs=own)
        return
    bulges = [bulge for _, _, bulge in stretches] + ([] if mark.closed else [0.0])
    points = [(x * scale, y * scale, bulge) for (x, y), bulge in zip(mark.points, bulges, strict=True)]
    space.add_lwpolyline(points, format="xyb", close=mark.closed, dxfattribs=own)


def _scaled(point: tuple[float, float], scale: float) -> tuple[float, float]:
    return point[0] * scale, point[1] * scale


def problems(path: FilePath, page: Drawing, unit: str) -> list[str]:
    """Differences between a DXF file and its drawing: the unit, the library's audit, the number of entities on each
    layer, and where they lie."""
    from ezdxf import bbox
    from ezdxf.filemanagement import readfile

    document = readfile(path)
    found = [f"audit: {error.message}" for error in document.audit().errors]
    if document.units != INSUNITS[unit]:
        found.append(f"its unit is {document.units}, not {INSUNITS[unit]}")
    space = document.modelspace()
    there = Counter(entity.dxf.layer for entity in space)
    meant = Counter(mark.layer.name for mark in page.marks if not isinstance(mark, Window))
    if there != meant:
        found.append(f"its layers hold {dict(there)}, not {dict(meant)}")
    drawn = [mark for mark in page.marks if isinstance(mark, Path | Circle)]
    reach = bbox.extents(entity for entity in space if entity.dxftype() != "TEXT")
    low_x, low_y, high_x, high_y = bounds(drawn)
    corners = (reach.extmin.x, reach.extmin.y, reach.extmax.x, reach.extmax.y)
    off = max(
        abs(one * PER_UNIT[unit] - other) for one, other in zip(corners, (low_x, low_y, high_x, high_y), strict=True)
    )
    if off > 0.01:
        found.append(f"its reach is off by {off:.4f} mm")
    return found
