"""What the strength's tests share: presets laid out, and one neck whose figures are worked out elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import numpy as np

import neckmodel
from neckmodel.checks.strength.relief import check_strength
from neckmodel.design import read, read_text
from neckmodel.findings import Finding
from neckmodel.geometry.types import Floats
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.step import Step
from neckmodel.strength.sections.cells import cell_edges, middles
from neckmodel.strength.sections.neck import ROUND
from neckmodel.strength.sections.section import Moments, Stiffness, polygon
from neckmodel.strength.sections.strips import openings

PRESETS = ("dunnock", "redpoll", "garganey")
FOLDER = Path(neckmodel.__file__).resolve().parents[1] / "presets"


def laid_out(name: str, *overrides: str) -> Layout:
    return lay_out(read(FOLDER / f"{name}.toml", overrides))


def findings(layout: Layout) -> dict[str, Finding]:
    """What the checks of strength find, by name: they look at the layout alone."""
    bench = cast(Any, SimpleNamespace(layout=layout, design=layout.design))
    return {f.check: f for f in check_strength(bench)}


WORKED = """
[design]
name = "worked"
[strings]
courses = 6
scale = 640.0
spacing_at_nut = 36.0
spacing_at_bridge = 52.0
[fretboard]
frets = 22
past_last_fret = 8.0
thickness = 6.0
edge_margin = 3.5
radius = 305.0
[neck]
joint_fret = 16
thickness = {fret_1 = 21.0, fret_12 = 23.0}
back = "C"
[rod]
kind = "two-way"
adjuster_at = "head"
length = 420.0
width = 5.5
height = 10.95
adjuster = {diameter = 6.0, length = 3.0, axis_below_top = 4.0, socket = {kind = "hex", size = 3.0, depth = 3.0}}
[rod_place]
from_nut = 7.0
[channel]
wider_by = 0.1
"""


def worked() -> Layout:
    """640 mm, 43 mm at the nut, 21 to 23 thick with a 6 mm fretboard of radius 305, joint at fret 16."""
    return lay_out(read_text(WORKED))


def worked_wood(layout: Layout, cells: int = 400) -> tuple[Floats, Floats, Moments]:
    """(edges, middles, wood) from nut to joint: the back's law alone, with a channel 5.6 x 11.05 from x = 10."""
    edges = cell_edges([0.0, 10.0, layout.frets.x(1), layout.heel.x_joint], cells)
    x = middles(edges)
    points = np.stack([layout.back.section(float(v)).at(ROUND) for v in x])
    deepest = np.array([layout.back.depth(float(v)) for v in x])
    channel = (Step("run", 10.0, 440.0, 5.6, 11.05, 11.05),)
    return edges, x, polygon(points) - openings(channel, x, deepest, points[:, -1, 0])


Push = tuple[int, float, float, float]  # number of the edge it acts in, N along x, N up, and the height it acts at, mm


def frame_relief(edges: Floats, whole: Stiffness, pushes: Sequence[Push], x_1: float, x_joint: float) -> float:
    """Relief by a finite-element frame, mm, held fast at its far end.

    anastruct (a library of plane frames): nodes on the neutral axis, an element a cell with its EA and EI. Nothing of
    the bending moment is put in: it follows from statics.
    """
    from anastruct import SystemElements

    neutral = np.concatenate([[whole.neutral[0]], (whole.neutral[1:] + whole.neutral[:-1]) / 2, [whole.neutral[-1]]])
    frame = SystemElements()
    nodes = [[float(x), float(z)] for x, z in zip(edges, neutral, strict=True)]
    for k in range(len(nodes) - 1):
        frame.add_element([nodes[k], nodes[k + 1]], EA=float(whole.axial[k]), EI=float(whole.bending[k]))
    frame.add_support_fixed(node_id=len(nodes))
    for k, along, up, height in pushes:
        frame.point_load(node_id=k + 1, Fx=along, Fy=up)
        frame.moment_load(node_id=k + 1, Ty=-along * (height - nodes[k][1]))  # it counts turning to the left
    frame.solve()
    up_by = np.array([frame.get_node_displacements(k + 1)["uy"] for k in range(len(nodes))])
    ends = np.interp([x_1, x_joint], edges, up_by)
    chord = ends[0] + (ends[1] - ends[0]) * (edges - x_1) / (x_joint - x_1)
    gap = (chord - up_by)[(edges >= x_1) & (edges <= x_joint)]
    return float(gap[np.argmax(abs(gap))])
