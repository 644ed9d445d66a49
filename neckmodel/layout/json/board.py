"""The plan of the board as plain data."""

from __future__ import annotations

from neckmodel.layout.layout import Layout
from neckmodel.layout.workshop.board import Sawn, plan_board


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
