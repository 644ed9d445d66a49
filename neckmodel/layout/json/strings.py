"""Frets and strings as plain data for other programs: lengths in mm."""

from __future__ import annotations

import math

from neckmodel.layout.layout import Layout
from neckmodel.layout.strings.frets import Fret
from neckmodel.layout.strings.strings import StringLine


def frets_json(layout: Layout) -> list[dict[str, object]]:
    """Every fret with a slot, from the nut; where its line crosses the centre, the outer strings and the edges."""
    return [_fret(layout, fret) for fret in layout.fretted]


def _fret(layout: Layout, fret: Fret) -> dict[str, object]:
    edge = layout.fretboard.line(fret.x, fret.slope)
    return {
        "n": fret.number,
        "x": fret.x,
        "x_bass": fret.x_bass,
        "x_treble": fret.x_treble,
        "slope": fret.slope,
        "edge_bass": list(edge[0]),
        "edge_treble": list(edge[1]),
    }


def scale_json(layout: Layout) -> dict[str, object]:
    """The scale length on the centre line; slopes are dx/dy of the lines of nut, joint and bridge."""
    frets = layout.frets
    return {
        "centre": frets.scale,
        "slope_nut": frets.slope(0),
        "slope_joint": frets.slope(layout.design.neck.joint_fret),
        "slope_bridge": frets.spans.slope(1.0),
        "worst_fret_error": _worst(frets.worst),
    }


def strings_json(layout: Layout) -> list[dict[str, object]]:
    """Bass side first. `along_nut` counts along the nut from its bass end, `along_saddle` from the first string."""
    board, first = layout.fretboard, layout.frets.strings[0]
    return [
        {
            "n": s.number,
            "x_nut": s.x_nut,
            "y_nut": s.y_nut,
            "y_bridge": s.y_bridge,
            "x_bridge": s.x_bridge,
            "length": s.length,
            "along_nut": None if s.fret else s.along_nut(board.start, board.slope_start),
            "along_saddle": math.hypot(s.x_bridge - first.x_bridge, s.y_bridge - first.y_bridge),
            "diameter": s.diameter,
            "z_nut": s.z_nut,
            "z_fret_12": s.z_12,
            "worst_fret_error": _worst(s),
            **({"starts_at_fret": s.fret} if s.fret else {}),
        }
        for s in layout.frets.strings
    ]


def _worst(string: StringLine) -> dict[str, object]:
    return {"n": string.number, "fret": string.worst.fret, "mm": string.worst.mm, "cents": string.worst.cents}


def over_nut_json(layout: Layout) -> list[dict[str, object]]:
    """Each string's way from the nut to its tuner: angles in degrees."""
    return [{"string": w.string, "tuner": w.tuner, "fall": w.fall, "bend": w.bend} for w in layout.head_ways]
