"""The blank, what it is glued up from, and the board it is sawn from, as plain data for other programs: mm."""

from __future__ import annotations

from neckmodel.layout.layout import Layout
from neckmodel.layout.wood.scarf import scarf_face, scarf_projection
from neckmodel.layout.workshop.board import Sawn, plan_board


def blank_json(layout: Layout) -> dict[str, object]:
    """`profile`: the corners (x, z) of the sawn blank, seen from the side."""
    return {
        "x_from": min(x for x, _ in layout.blank_profile),
        "x_to": max(x for x, _ in layout.blank_profile),
        "half_width": layout.blank_half_width,
        "profile": [list(p) for p in layout.blank_profile],
    }


def pieces_json(layout: Layout) -> list[dict[str, object]]:
    """What is glued to the neck's own wood, each with the stock it takes."""
    return [
        {"name": p.name, "length": p.stock[0], "width": p.stock[1], "thickness": p.stock[2], "seam": p.seam}
        for p in layout.pieces
    ]


def scarf_json(layout: Layout) -> dict[str, object] | None:
    """None for a head in one piece."""
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


def board_json(layout: Layout) -> dict[str, object] | None:
    """The board's plan; None where no board is stated."""
    plan = plan_board(layout)
    if plan is None or layout.board is None:
        return None
    length, width, thickness = layout.board
    return {
        "length": length,
        "width": width,
        "thickness": thickness,
        "kerf": layout.design.workshop.kerf,
        "pieces": [{**_size(p), "from_end": p.from_end, "from_edge": p.from_edge} for p in plan.pieces],
        "missing": [_size(p) for p in plan.missing],
        "offcuts": [{**_size(p), "from_end": p.from_end, "from_edge": p.from_edge} for p in plan.offcuts],
        "longer_by": plan.longer_by,
        "wider_by": plan.wider_by,
    }


def _size(piece: Sawn) -> dict[str, object]:
    return {"name": piece.name, "length": piece.length, "width": piece.width, "thickness": piece.thickness}
