"""stock/size, stock/pieces and stock/grain: whether blank and pieces can be sawn from the stated board."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.glued import glued_size
from neckmodel.checks.remedies import either, first_good
from neckmodel.checks.verdict import COMMON, SLACK, place, up
from neckmodel.findings import Finding, Remedy
from neckmodel.layout.board_plan import plan_board
from neckmodel.layout.sawn import shaft_ramps
from neckmodel.layout.shape import LEAST_STOCK

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench

THIN = 0.5  # mm to spare in thickness below which truing the board is hardly possible; common practice, no source
GRAIN_WARN = 1 / 20  # rise over run; common practice, no source


def check_stock(bench: Bench) -> list[Finding]:
    board = bench.design.board
    if board is None:
        says = "no board is stated: add [board] with length, width and thickness"
        return [Finding("stock/size", "board", "skipped", says)]
    glued = glued_size(bench)
    if glued is None:
        spare = np.ptp(bench.mesh("board").bounds, axis=0) - np.ptp(bench.mesh("blank").bounds, axis=0)
        # the glue plane is the board's top
        spare[2] = bench.mesh("blank").bounds[0][2] - bench.mesh("board").bounds[0][2]
    else:
        spare = np.ptp(bench.mesh("board").bounds, axis=0) - glued
    words = ("length", "width", "thickness")
    k = int(np.argmin(spare))
    measured = float(spare[k])
    verdict, remedy = "pass", None
    says = "to spare: " + ", ".join(f"{value:.2f} mm in {word}" for word, value in zip(words, spare, strict=True))
    if measured < -SLACK:
        verdict = "fail"
        what = "the blank is" if bench.layout.scarf is None else "shaft and head piece together are"
        says = f"{what} {-measured:.2f} mm too large for the board's {words[k]}"
        need = {
            f"board.{word}": up(getattr(board, word) - float(v))
            for word, v in zip(words, spare, strict=True)
            if v < -SLACK
        }
        stacked = _for_blocks(bench, need.get("board.thickness", 0.0))
        if stacked is not None:
            says += ": thinner than the shaft is sawn, it makes no heel glued up from blocks"
        remedy = _larger(bench, need, stacked)
    elif glued is None and spare[2] < THIN - SLACK:
        measured, k, verdict, says = float(spare[2]), 2, "warn", f"{says}; under {THIN:.1f} mm hardly trues a board"
        thick = up(board.thickness + THIN - float(spare[2]))
        remedy = Remedy(f"a board {thick:.2f} mm thick", {"board.thickness": thick})
    at = place(bench.layout, _tight(bench.mesh("blank"), k))
    return [
        Finding("stock/size", "board", verdict, says, measured, SLACK, 0.0, basis="geometry", at=at, remedy=remedy),
        *_pieces(bench, verdict == "fail"),
        _grain(bench),
    ]


def _for_blocks(bench: Bench, whole: float) -> float | None:
    """The least thickness of a board from which shaft and heel can be glued up, where that is less than the whole."""
    outside = bench.layout.outside
    (_, z_heel) = shaft_ramps(outside, bench.design.allowance.back)[1]  # where it meets the heel's ramp
    shaft = up(max(outside.deepest_shaft + LEAST_STOCK, -z_heel))
    return shaft if bench.layout.heel.kind != "through" and shaft < whole else None


def _larger(bench: Bench, need: dict[str, float], stacked: float | None) -> Remedy:
    """A board of at least these sizes by their keys; or just so thick that the heel can be glued up from blocks."""
    remedies = [_board(need)]
    if stacked is not None:
        remedies.append(_board(need | {"board.thickness": stacked}, ", the heel glued up from blocks"))
    return either(*[remedy for remedy in remedies if first_good(bench.design, [remedy])] or remedies[:1])


def _board(sizes: dict[str, float], ending: str = "") -> Remedy:
    said = " and ".join(f"{key[6:]} {value:.2f} mm" for key, value in sizes.items())
    return Remedy(f"a board of {said}{ending}", dict(sizes))


def _pieces(bench: Bench, too_large: bool) -> list[Finding]:
    """Whether what is glued on has room on the board beside the blank. None: there is nothing, or the blank itself is
    too large and told so. Other wood of the same kind will do, so that it warns only."""
    plan, layout = plan_board(bench.layout), bench.layout
    if plan is None or too_large or not any(piece.name != "head-piece" for piece in layout.pieces):
        return []
    if not plan.missing:
        placed = ", ".join(piece.name for piece in plan.pieces[1:])
        spare = max((offcut.length for offcut in plan.offcuts), default=0.0)
        says = f"the board has room for {placed} beside the blank; the longest offcut is {spare:.2f} mm"
        return [Finding("stock/pieces", "board", "pass", says, spare, SLACK, 0.0, basis="geometry")]
    sizes = "; ".join(f"{p.name}, {p.length:.2f} x {p.width:.2f} x {p.thickness:.2f} mm" for p in plan.missing)
    says = f"no room on the board for {sizes}: take them from other wood of the same kind"
    larger = {"board.length": plan.longer_by, "board.width": plan.wider_by}
    ways = {key: up(getattr(bench.design.board, key[6:]) + by) for key, by in larger.items() if by > 0}
    if not ways:
        short = max(p.thickness for p in plan.missing) - layout.board[2] if layout.board is not None else 0.0
        return [Finding("stock/pieces", "board", "warn", says, -short, SLACK, 0.0, basis="geometry")]
    key = min(ways, key=lambda way: larger[way])
    remedy = Remedy(" or ".join(f"a board of {way[6:]} {size:.2f} mm" for way, size in ways.items()), {key: ways[key]})
    return [Finding("stock/pieces", "board", "warn", says, -larger[key], SLACK, 0.0, basis="geometry", remedy=remedy)]


def _tight(blank: trimesh.Trimesh, axis: int) -> tuple[float, float, float]:
    """Where the blank comes nearest to the board's surface along this axis."""
    corners = np.asarray(blank.vertices)
    x, y, z = corners[np.argmin(corners[:, axis])].tolist()
    return x, y, z


def _grain(bench: Bench) -> Finding:
    board, limit = bench.design.board, bench.design.limits.stock_grain
    if board is None or board.grain_slope is None:
        return Finding(
            "stock/grain",
            "board",
            "skipped",
            "the slope of the grain is not stated: measure it and set board.grain_slope",
        )
    slope = board.grain_slope
    verdict = "fail" if slope > limit + SLACK else "warn" if slope > GRAIN_WARN + SLACK else "pass"
    says = "the grain runs level" if slope == 0 else f"the grain rises 1 in {1 / slope:.1f}"
    if verdict == "fail":
        says += f"; choose a board of at most 1 in {1 / limit:.1f}" if limit > 0 else "; choose a board without slope"
    elif verdict == "warn":
        says += f"; up to 1 in {1 / GRAIN_WARN:.0f} is usual"
    return Finding(
        "stock/grain", "board", verdict, says, slope, 0.0, limit, "rise over run", basis=COMMON, held=(None, limit)
    )
