"""The layout as plain data for other programs: lengths in mm, rounded to 0.00001, keys in a fixed order."""

from __future__ import annotations

import math
from typing import Any

from neckmodel.design.reading.measured import Number
from neckmodel.layout.json.board import board_json
from neckmodel.layout.json.channel import step_json
from neckmodel.layout.json.hand import left_handed
from neckmodel.layout.json.rod import recesses_json, rod_json
from neckmodel.layout.layout import Layout
from neckmodel.layout.measured.numbers import numbers_of
from neckmodel.layout.strings.frets import Fret
from neckmodel.layout.strings.strings import StringLine
from neckmodel.layout.wood.scarf import scarf_face, scarf_projection

SCHEMA = "neckmodel/layout/1"
DECIMALS = 5


def _round(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0 if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: _round(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_round(item) for item in value]
    return value


def layout_json(layout: Layout) -> dict[str, Any]:
    """Every derived number, where it lies on the finished neck; an endless length (a flat crown's radius) is null."""
    board, back, head, heel = layout.fretboard, layout.back, layout.head, layout.heel
    first = layout.frets.strings[0]
    data: dict[str, object] = {
        "schema": SCHEMA,
        "name": layout.name,
        "unit": "mm",
        "hand": layout.design.design.hand,
        "design_sha256": layout.design.sha256,
        "frets": [_fret(layout, fret) for fret in layout.fretted],
        "scale": {
            "centre": layout.frets.scale,
            "slope_nut": layout.frets.slope(0),
            "slope_joint": layout.frets.slope(layout.design.neck.joint_fret),
            "slope_bridge": layout.frets.spans.slope(1.0),
            "worst_fret_error": _worst(layout.frets.worst),
        },
        "strings": [
            {
                "n": s.number,
                "x_nut": s.x_nut,
                "y_nut": s.y_nut,
                "y_bridge": s.y_bridge,
                "x_bridge": s.x_bridge,
                "length": s.length,
                "along_nut": s.along_nut(board.start, board.slope_start),
                "along_saddle": math.hypot(s.x_bridge - first.x_bridge, s.y_bridge - first.y_bridge),
                "diameter": s.diameter,
                "z_nut": s.z_nut,
                "z_fret_12": s.z_12,
                "worst_fret_error": _worst(s),
            }
            for s in layout.frets.strings
        ],
        "action": vars(layout.action),
        "fretboard": {
            "x_start": board.x_start,
            "x_end": board.x_end,
            "start": [list(point) for point in board.start],
            "end": [list(point) for point in board.end],
            "width_nut": 2 * board.half_width(0.0),
            "width_end": 2 * board.half_width(board.x_end),
            "thickness": board.thickness,
            "edge_thickness_nut": board.edge_thickness(0.0),
            "edge_thickness_end": board.edge_thickness(board.x_end),
            "radius_nut": board.radius_nut,
            "radius_end": board.radius_end,
            "margin_nut": board.margin_nut,
            "margin_last_fret": board.margin_last,
            "margins_at_string_ends": [
                board.half_width(s.x_nut) - abs(s.y_nut) for s in (layout.frets.strings[0], layout.frets.strings[-1])
            ],
            "least_wood_below_slot": min(s.wood_below for s in board.slots),
            "least_slot_at_edge": min(s.seat_at_edge for s in board.slots),
        },
        "neck": {
            "joint": heel.x_joint,
            "wood_ends_at": heel.x_end,
            "thickness_nut": back.thickness(0.0),
            "depth_nut": back.depth(0.0),
            "depth_joint": back.depth(heel.x_joint),
            "sections": [
                {
                    "fret": n,
                    "x": x,
                    "half_width": back.half_width(x),
                    "depth": back.depth(x),
                    "fullness": back.exponent(x),
                    "deepest_y": back.apex(x),
                    "area": back.section(x).area(),
                }
                for n, x in [(0, 0.0)] + [(f.number, f.x) for f in layout.frets.frets if f.x <= heel.x_swell]
            ],
        },
        "nut": _nut(layout),
        "head": {
            "kind": head.kind,
            "x_line": head.x_line,
            "x_far": head.x_far,
            "angle": head.angle,
            "drop": head.drop,
            "thickness": head.thickness,
            "length": head.length,
            "near": head.near,
            "far": head.far,
            "outline": None if head.contour is None else [list(corner) for corner in head.contour.corners],
            "volute": None
            if head.volute is None
            else {"x_start": head.volute.x_start, "x_end": head.volute.x_end, "height": head.volute.height},
        },
        "scarf": _scarf(layout),
        "pieces": [
            {"name": p.name, "length": p.stock[0], "width": p.stock[1], "thickness": p.stock[2], "seam": p.seam}
            for p in layout.pieces
        ],
        "body": _body(layout),
        "body_wings": [
            {
                "name": w.name,
                "x_start": w.x_start,
                "y": w.seam,
                "length": w.stock[0],
                "width": w.stock[1],
                "thickness": w.stock[2],
                "glued": w.glued,
            }
            for w in layout.body_wings
        ],
        "heel": {
            "kind": heel.kind,
            "x_joint": heel.x_joint,
            "x_end": heel.x_end,
            "depth": heel.depth,
            "width_end": 2 * layout.outside.half_width(heel.x_end),
            "tenon": None
            if heel.tenon is None
            else {"length": heel.x_end - heel.x_joint, "width": 2 * heel.tenon.half_width, "depth": heel.tenon.depth},
        },
        "rod": None,
        "bars": [
            {
                "name": b.name,
                "x_start": b.x_start,
                "x_end": b.x_end,
                "y": b.y,
                "width": b.width,
                "height": b.height,
                "x_min": max(c.x for c in b.lower),
                "x_max": min(c.x for c in b.upper),
            }
            for b in layout.bars
        ],
        "channel": [step_json(layout, step.name) for step in layout.steps],
        "walls_by_section": [{"step": w.step, "wall": w.wall, "x": w.x} for w in layout.walls],
        "screws": [
            {"name": s.name, "kind": s.kind, "x": s.x, "y": s.y, "bite": s.bite, "z_point": s.z_point}
            for s in layout.screws
        ],
        "tuners": [
            {
                **{"name": t.name, "x": t.on_face[0], "y": t.on_face[1], "z": t.on_face[2], "hole": t.hole},
                "string_height": t.string_height,
                "tree": None if t.tree is None else {"along_face": t.tree[0], "height": t.tree[1]},
            }
            for t in layout.tuners
        ],
        "over_nut": [
            {"string": way.string, "tuner": way.tuner, "fall": way.fall, "bend": way.bend} for way in layout.head_ways
        ],
        "blank": {
            "x_from": min(x for x, _ in layout.blank_profile),
            "x_to": max(x for x, _ in layout.blank_profile),
            "half_width": layout.blank_half_width,
            "profile": [list(p) for p in layout.blank_profile],
        },
        "stations": [{"name": s.name, "x": s.x} for s in layout.stations],
        "numbers": [_number(number) for number in numbers_of(layout)],
        "remarks": list(layout.remarks),
    }
    if layout.rod is not None:
        data["rod"] = rod_json(layout.rod)
    data["body_recesses"] = recesses_json(layout.recesses)
    data["board"] = board_json(layout)
    rounded: dict[str, Any] = _round(left_handed(data) if layout.left_handed else data)
    return rounded


def _scarf(layout: Layout) -> dict[str, object] | None:
    scarf = layout.scarf
    if scarf is None:
        return None
    allowance, kerf = layout.design.allowance, layout.design.workshop.kerf
    return {
        "way": scarf.way,
        "shaft_thickness": scarf.shaft,
        "x_top": scarf.x_top,
        "x_back": scarf.x_back,
        "x_keel": scarf.x_keel,
        "face": scarf_face(scarf.shaft, scarf.angle),
        "projection": scarf_projection(scarf.shaft, scarf.angle),
        "shaft_from": scarf.x_shaft,
        "head_piece_length": scarf.piece_length,
        "board_length": scarf.board_length(layout.heel.x_end, allowance.ends, kerf),
    }


def _body(layout: Layout) -> dict[str, object]:
    body = layout.body
    return {
        "x_back": body.x_back,
        "cut_outs": [{"from": c.x_from, "to": c.x_to, "source": c.source} for c in body.cut_outs],
        "outline": None if body.outline is None else body.outline.tolist(),
        "holes": [hole.tolist() for hole in body.holes],
        "skew": body.skew,
        "off_at_bridge": body.off_at_bridge,
        "drawing_sha256": body.sha256,
    }


def _nut(layout: Layout) -> dict[str, object]:
    nut, strip = layout.nut, layout.nut_strip
    behind = None if strip is None else {"start": [*map(list, strip.start)], "end": [*map(list, strip.end)]}
    return {
        "x_start": nut.x_start,
        "x_end": nut.x_end,
        "outline": [list(corner) for corner in nut.corners],
        "z_seat": nut.z_seat,
        "height": nut.height,
        "strip": behind,
    }


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


def _worst(string: StringLine) -> dict[str, object]:
    return {"n": string.number, "fret": string.worst.fret, "mm": string.worst.mm, "cents": string.worst.cents}


def _number(number: Number) -> dict[str, object]:
    data: dict[str, object] = {"key": number.key, "value": number.value, "type": number.origin}
    return data if number.origin != "measured" else {**data, "as_built": True, "planned": number.planned}
