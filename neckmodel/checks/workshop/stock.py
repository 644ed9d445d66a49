"""stock/size, stock/pieces and stock/grain: whether blank and pieces can be sawn from the stated board."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.remedy import Aim, any_of, change, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.checks.workshop.scarf import glued_size
from neckmodel.checks.workshop.seams import check_seams
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, limit_finding, range_finding, skipped_finding
from neckmodel.geometry.types import Floats
from neckmodel.layout.neck.outside import LEAST_STOCK
from neckmodel.layout.wood.blank import shaft_ramps
from neckmodel.layout.workshop.board import plan_board
from neckmodel.limits import TRUED_OFF, TRUED_OFF_EDGE, USUAL_GRAIN

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.design.tables.board import Board

SIZES = ("length", "width", "thickness")
LEAST_TOLD = 0.01  # mm, what two decimals show


def check_stock(bench: Bench) -> list[Finding]:
    """Whether the blank comes out of the trued board; and the pieces, and the grain."""
    board = bench.design.board
    if board is None:
        says = "no board is stated: add [board] with length, width and thickness"
        return [
            skipped_finding(
                check="stock/size",
                part="board",
                says=says,
            )
        ]
    spare = _spare(bench)
    k = int(np.argmin(spare))
    measured = float(spare[k])
    verdict, remedy = PASS, None
    sizes = ", ".join(f"{_little(value)} in {word}" for value, word in zip(spare.tolist(), SIZES, strict=True))
    says = f"to spare{'' if board.surface == 'trued' else ' once it is trued'}: {sizes}"
    rough = spare - (0.0, 2 * TRUED_OFF_EDGE, TRUED_OFF)
    if measured < -SLACK:
        verdict = FAIL
        what = "the blank is" if bench.layout.scarf is None else "shaft and head piece together are"
        says = f"{what} {_little(-measured)} too large for the board's {SIZES[k]}"
        if board.surface == "rough" and k:
            takes = 2 * TRUED_OFF_EDGE if k == 1 else TRUED_OFF
            says += f", of which truing still takes {takes:.2f} mm"
        lacks = {word: -float(v) for word, v in zip(SIZES, spare, strict=True) if v < -SLACK}
        stacked = _for_blocks(bench, board.trued[2] + lacks.get("thickness", 0.0))
        if stacked is not None:
            says += ": it is thinner than the sawn shaft, so blocks cannot make up the heel either"
        remedy = graded(bench.design, lambda aim: _larger(bench, board, lacks, stacked, aim))
    elif not bench.design.stated("board.surface") and float(rough.min()) < -SLACK:
        k = int(np.argmin(rough))
        verdict = WARN
        says += (
            "; that holds for a trued board. A rough one of this size would be "
            f"{_little(-float(rough[k]))} too small in {SIZES[k]} once trued: state board.surface"
        )
        remedy = Remedy("if the board is trued, say so in the file", {"board.surface": "trued"})
    at = place(bench.layout, _tight(bench.mesh("blank"), k))
    return [
        limit_finding(
            check="stock/size",
            part="board",
            verdict=verdict,
            says=says,
            measured=measured,
            error=SLACK,
            limit=0.0,
            basis="geometry",
            at=at,
            remedy=remedy,
        ),
        *_pieces(bench, verdict == FAIL),
        *check_seams(bench.layout),
        _grain(bench),
    ]


def _little(length: float) -> str:
    """What is to spare or lacks, and never as a nought that is none."""
    if length <= SLACK:
        return "nothing"
    return f"less than {LEAST_TOLD} mm" if length < LEAST_TOLD else f"{length:.2f} mm"


def _spare(bench: Bench) -> Floats:
    """(3,) how much larger than the blank the trued board is in length, width and thickness, mm."""
    size, glued = np.ptp(bench.mesh("board").bounds, axis=0), glued_size(bench)
    if glued is not None:
        return np.asarray(size - glued)
    spare = size - np.ptp(bench.mesh("blank").bounds, axis=0)
    spare[2] = bench.mesh("blank").bounds[0][2] - bench.mesh("board").bounds[0][2]  # the glue plane is its top
    return np.asarray(spare)


def _for_blocks(bench: Bench, whole: float) -> float | None:
    """The least thickness of a board from which shaft and heel can be glued up, mm; None where it is not less than the
    whole blank's."""
    outside = bench.layout.outside
    (_, z_heel) = shaft_ramps(outside, bench.design.allowance.back)[
        1
    ]  # the point at which the shaft meets the heel's ramp
    shaft = max(outside.deepest_shaft + LEAST_STOCK, -z_heel)
    return shaft if bench.layout.heel.kind != "through" and shaft < whole else None


def _larger(bench: Bench, board: Board, lacks: dict[str, float], stacked: float | None, aim: Aim) -> Remedy | None:
    """A board larger by what it lacks, of strips by wider outer ones; or one just thick enough for the heel to be glued
    up from blocks."""
    need = {f"board.{word}": aim.up(f"board.{word}", getattr(board, word) + by) for word, by in lacks.items()}
    if board.strips and need.pop("board.width", None) is not None:
        for k in (0, len(board.strips) - 1):
            key = f"board.strips.{k}.width"
            need[key] = aim.up(key, board.strips[k].width + lacks["width"] / 2)
    whole, blocks = possible(bench.design, need), None
    if stacked is not None:
        thick = aim.up("board.thickness", stacked + board.thickness - board.trued[2])
        blocks = possible(bench.design, need | {"board.thickness": thick})
        blocks = blocks and replace(blocks, says=f"{blocks.says}, the heel glued up from blocks")
    return any_of(whole, blocks) or change(bench.design, need)


def _pieces(bench: Bench, too_large: bool) -> list[Finding]:
    """Whether the glued pieces have room on the board beside the blank; nothing where none is glued on, where the blank
    itself is too large, which another finding reports, or where the board is of strips, of which no piece is sawn.
    Other wood of the same kind will do, so this only warns."""
    plan, layout = plan_board(bench.layout), bench.layout
    if plan is None or too_large or layout.strips or not any(piece.name != "head-piece" for piece in layout.pieces):
        return []
    if not plan.missing:
        placed = ", ".join(piece.name for piece in plan.pieces[1:])
        spare = max((offcut.length for offcut in plan.offcuts), default=0.0)
        says = f"the board has room for {placed} beside the blank; the longest offcut is {spare:.2f} mm"
        return [
            limit_finding(
                check="stock/pieces",
                part="board",
                verdict=PASS,
                says=says,
                measured=spare,
                error=SLACK,
                limit=0.0,
                basis="geometry",
            )
        ]
    sizes = "; ".join(f"{p.name}, {p.length:.2f} x {p.width:.2f} x {p.thickness:.2f} mm" for p in plan.missing)
    says = f"no room on the board for {sizes}: take them from other wood of the same kind"
    larger = {"board.length": plan.longer_by, "board.width": plan.wider_by}
    by = min((by for by in larger.values() if by > 0), default=0.0)
    if by == 0.0:
        by = max(p.thickness for p in plan.missing) - layout.board[2] if layout.board is not None else 0.0
        return [
            limit_finding(
                check="stock/pieces",
                part="board",
                verdict=WARN,
                says=says,
                measured=-by,
                error=SLACK,
                limit=0.0,
                basis="geometry",
            )
        ]

    def board(aim: Aim) -> Remedy | None:
        ways = ({key: aim.up(key, getattr(bench.design.board, key[6:]) + more)} for key, more in larger.items() if more)
        return any_of(*(possible(bench.design, way) for way in ways))

    remedy = graded(bench.design, board)
    return [
        limit_finding(
            check="stock/pieces",
            part="board",
            verdict=WARN,
            says=says,
            measured=-by,
            error=SLACK,
            limit=0.0,
            basis="geometry",
            remedy=remedy,
        )
    ]


def _tight(blank: trimesh.Trimesh, axis: int) -> tuple[float, float, float]:
    """Where the blank comes nearest to the board's surface along this axis."""
    corners = np.asarray(blank.vertices)
    x, y, z = corners[np.argmin(corners[:, axis])].tolist()
    return x, y, z


def _grain(bench: Bench) -> Finding:
    board, limit = bench.design.board, bench.design.limits.stock_grain
    if board is None or board.grain_slope is None:
        return skipped_finding(
            check="stock/grain",
            part="board",
            says="the slope of the grain is not stated: measure it and set board.grain_slope",
        )
    slope = board.grain_slope
    verdict = FAIL if slope > limit + SLACK else WARN if slope > USUAL_GRAIN + SLACK else PASS
    says = "the grain runs level" if slope == 0 else f"the grain rises 1 in {1 / slope:.1f}"
    if verdict == FAIL:
        says += f"; choose a board of at most 1 in {1 / limit:.1f}" if limit > 0 else "; choose a board without slope"
    elif verdict == WARN:
        says += f"; up to 1 in {1 / USUAL_GRAIN:.0f} is usual"
    return range_finding(
        check="stock/grain",
        part="board",
        verdict=verdict,
        says=says,
        measured=slope,
        error=0.0,
        limit=limit,
        held=(None, limit),
        unit="rise over run",
        basis=COMMON,
    )
