"""Three unequal solids, lopsided on purpose, whose sizes and places are written here and asserted in the tests.

Run as a script, it exports them into the folder given: a second process to compare bytes with.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable
from pathlib import Path

import cadquery as cq

from neckmodel.findings import Finding, Findings, PartFact, Place, Remedy
from neckmodel.solids.parts import Part
from neckmodel.writers.base import Bodies, Form, Job

NAME = "O'Größe 漢"
BLANK_BOX = (-31.0, -17.0, -21.5, 118.0, 23.0, 0.0)
POCKET = {"x": (9.0, 51.0), "y": 3.0, "radius": 3.175, "depth": 9.5}  # x: to the ends of the round ends
HOLE = {"x": 97.0, "y": -8.0, "radius": 2.25, "depth": 13.0}
ROD = {"x": (7.0, 68.0), "y": 1.5, "z": -4.0, "radius": 2.5}
NECK_ENDS = (2.0, 72.0)
LAYOUT = {"schema": "neckmodel/layout/1", "name": NAME, "unit": "mm", "frets": [{"n": 1, "x": 36.3694453822626}]}
DESIGN = '# Größe\n[design]\nname = "O\'Größe 漢"\n'


def blank() -> cq.Solid:
    x0, y0, z0, x1, y1, z1 = BLANK_BOX
    stock = cq.Workplane().box(x1 - x0, y1 - y0, z1 - z0, centered=False).translate((x0, y0, z0))
    (start, end), radius = POCKET["x"], POCKET["radius"]
    pocket = (
        cq.Workplane().center((start + end) / 2, POCKET["y"]).slot2D(end - start, 2 * radius).extrude(-POCKET["depth"])
    )
    hole = cq.Workplane().center(HOLE["x"], HOLE["y"]).circle(HOLE["radius"]).extrude(-HOLE["depth"])
    return cq.Solid(stock.cut(pocket).cut(hole).val().Solids()[0].wrapped)


def blank_volume() -> float:
    """Closed form: box, less a slot with half-round ends, less a hole."""
    x0, y0, z0, x1, y1, z1 = BLANK_BOX
    (start, end), radius = POCKET["x"], POCKET["radius"]
    slot = (end - start - 2 * radius) * 2 * radius + math.pi * radius**2
    hole = math.pi * HOLE["radius"] ** 2 * HOLE["depth"]
    return (x1 - x0) * (y1 - y0) * (z1 - z0) - slot * POCKET["depth"] - hole


def neck() -> cq.Solid:
    """A lofted solid with B-spline faces, deeper and wider toward +x, and to one side."""
    start, end = NECK_ENDS
    sections = [
        cq.Wire.assembleEdges(
            [
                cq.Edge.makeLine(cq.Vector(x, left, 0), cq.Vector(x, right, 0)),
                cq.Edge.makeSpline(
                    [cq.Vector(x, right, 0), cq.Vector(x, right / 2 + 1, -depth), cq.Vector(x, left, 0)]
                ),
            ]
        )
        for x, left, right, depth in ((start, -10.0, 12.0, 9.0), (30.0, -11.5, 13.0, 10.5), (end, -13.0, 16.0, 14.0))
    ]
    return cq.Solid.makeLoft(sections)


def rod() -> cq.Solid:
    start, end = ROD["x"]
    return cq.Solid.makeCylinder(ROD["radius"], end - start, cq.Vector(start, ROD["y"], ROD["z"]), cq.Vector(1, 0, 0))


def rod_volume() -> float:
    return math.pi * ROD["radius"] ** 2 * (ROD["x"][1] - ROD["x"][0])


def parts() -> tuple[Part, ...]:
    return (
        Part("blank", blank(), (0.72, 0.53, 0.32), "stock"),
        Part("neck", neck(), (0.8, 0.5, 0.25), "wood"),
        Part("rod", rod(), (0.45, 0.5, 0.6), "hardware"),
    )


def findings(fail: bool = False) -> Findings:
    wall = Finding(
        "wall/run",
        "neck",
        "fail" if fail else "pass",
        "the wood under the channel is too thin" if fail else "enough wood under the channel",
        measured=2.4391234567 if fail else 3.2,
        error=0.01,
        limit=3.0,
        worst_case=2.1,
        basis="common practice, no source",
        at=Place(301.25, -1.5, -11.0, 7),
        remedy=Remedy("make the neck 0.57 mm thicker", {"neck.thickness.fret_1": 18.57}) if fail else None,
        more={"steepest": -0.0},
    )
    facts = PartFact("neck", 1234.5678901, (2.0, -13.0, -14.5, 72.0, 16.5, 0.0), 1, True, True)
    return Findings(NAME, (wall, Finding("glue/nut", "neck", "skipped", "no nut in this design", unit="mm2")), (facts,))


FORMATS = ("step", "stl", "3mf", "glb")


def job(built: Iterable[Part], fail: bool = False, **form: str) -> Job:
    return Job(Bodies(built), findings(fail), LAYOUT, DESIGN, Form(**{"setup": "back-up-bed", **form}))


def contents(place: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path from there."""
    return {str(path.relative_to(place)): path.read_bytes() for path in sorted(place.rglob("*")) if path.is_file()}


if __name__ == "__main__":
    from neckmodel.writers.folders.export import write

    write(job(parts()), Path(sys.argv[1]), formats=FORMATS)
