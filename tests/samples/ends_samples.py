"""Designs with heads and heels of every kind, and drawings written as plain text, none of it by the code under test."""

from __future__ import annotations

import io
import math
from pathlib import Path

import ezdxf

from neckmodel.design import Design, read, read_text

BOLTED = """
[design]
name = "linnet"
[strings]
courses = 6
scale = 642.0
spacing_at_nut = 36.2
spacing_at_bridge = 54.0
[fretboard]
frets = 20
past_last_fret = 8.0
edge_margin = 3.6
radius = 380.0
[neck]
joint_fret = 14
thickness = {fret_1 = 21.5, fret_12 = 23.5}
[rod]
kind = "two-way"
length = 360.0
width = 5.6
height = 9.0
adjuster = {diameter = 6.8, length = 11.0, axis_below_top = 4.4, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[rod_place]
past_joint = 5.0
"""

TENON = """
[heel]
kind = "tenon"
depth = 60.0
swell_from = 36.0
tenon = {length = 20.0, width = 22.0, depth = 50.0}
[board]
length = 620.0
width = 65.0
thickness = 20.0
"""


def scarfed(way: str, angle: float = 14.0, **more: object) -> str:
    keys = {"angle": angle, "thickness": 14.5, "length": 170.0, "scarf": f'"{way}"', **more}
    return '[head]\nkind = "scarfed"\n' + "".join(f"{key} = {value}\n" for key, value in keys.items())


def design(*sections: str, sets: tuple[str, ...] = ()) -> Design:
    return read_text(BOLTED + "".join(sections), "linnet.toml", list(sets))


def with_drawing(
    folder: Path, drawing: str | bytes, name: str, sections: str = "", sets: tuple[str, ...] = ()
) -> Design:
    """The design in a folder of its own beside a drawing that it names as its head's outline."""
    data = drawing.encode() if isinstance(drawing, str) else drawing
    (folder / name).write_bytes(data)
    head = sections or f'[head]\noutline = {{file = "{name}", layer = "outline"}}\n'
    (folder / "linnet.toml").write_text(BOLTED + head)
    return read(folder / "linnet.toml", list(sets))


def binary_dxf() -> bytes:
    """A drawing of one line as another library writes it, in binary."""
    document = ezdxf.new(units=4)  # type: ignore[attr-defined]
    document.modelspace().add_line((0, 0), (1, 0))
    found = io.BytesIO()
    document.write(found, fmt="bin")
    return found.getvalue()


# --- DXF, as its reference writes it: pairs of a group code and a value
def dxf(entities: str, unit: int | None = 4) -> str:
    header = "9\n$ACADVER\n1\nAC1015\n" + ("" if unit is None else f"9\n$INSUNITS\n70\n{unit}\n")
    return f"0\nSECTION\n2\nHEADER\n{header}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"


def polyline(points: list[tuple[float, ...]], layer: str = "outline", closed: bool = True) -> str:
    """LWPOLYLINE of (x, y) or (x, y, bulge)."""
    text = f"0\nLWPOLYLINE\n100\nAcDbEntity\n8\n{layer}\n100\nAcDbPolyline\n90\n{len(points)}\n70\n{int(closed)}\n"
    for x, y, *bulge in points:
        text += f"10\n{x!r}\n20\n{y!r}\n" + (f"42\n{bulge[0]!r}\n" if bulge else "")
    return text


def line(a: tuple[float, float], b: tuple[float, float], layer: str = "outline") -> str:
    return f"0\nLINE\n8\n{layer}\n10\n{a[0]!r}\n20\n{a[1]!r}\n11\n{b[0]!r}\n21\n{b[1]!r}\n"


def arc(centre: tuple[float, float], radius: float, start: float, end: float, layer: str = "outline") -> str:
    return f"0\nARC\n8\n{layer}\n10\n{centre[0]!r}\n20\n{centre[1]!r}\n40\n{radius!r}\n50\n{start!r}\n51\n{end!r}\n"


def circle(centre: tuple[float, float], radius: float, layer: str = "outline") -> str:
    return f"0\nCIRCLE\n8\n{layer}\n10\n{centre[0]!r}\n20\n{centre[1]!r}\n40\n{radius!r}\n"


def svg(body: str, size: str = 'width="400mm" height="200mm" viewBox="-200 -100 400 200"') -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><g id="outline">{body}</g></svg>'


# a plain head: straight sides 24 from the centre line at the head line, 30 at 160, its far corners round 10
HALF_NEAR, HALF_FAR, LENGTH, ROUND = 24.0, 30.0, 160.0, 10.0
TAPER = (HALF_FAR - HALF_NEAR) / LENGTH


def plain_head(scale: float = 1.0) -> list[tuple[float, float, float]]:
    """Corners with bulges, treble side first, in mm over `scale`: arcs of radius ROUND tangent to sides and end."""
    turn = math.pi / 2 + math.atan(TAPER)  # from the side's direction to the end's
    reach = ROUND * math.tan(turn / 2)
    along = math.hypot(1, TAPER)
    bulge = math.tan(turn / 4)
    corner = (-LENGTH, HALF_NEAR + TAPER * LENGTH)
    before = (corner[0] + reach / along, corner[1] - reach * TAPER / along)
    after = (-LENGTH, corner[1] - reach)
    points = [
        (5.0, HALF_NEAR - TAPER * 5, 0.0),
        (*before, bulge),
        (*after, 0.0),
        (after[0], -after[1], bulge),
        (before[0], -before[1], 0.0),
        (5.0, -HALF_NEAR + TAPER * 5, 0.0),
    ]
    return [(x / scale, y / scale, b) for x, y, b in points]
