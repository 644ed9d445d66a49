"""The plan of the board: where blank, heel blocks and wings are sawn from it, and which offcuts are left. Lengths mm.

Every piece keeps the grain along the board, so none is turned. Every cut goes right across the part it divides, and
takes the saw's kerf. The blank comes first, in the corner at the board's end and reference edge. The others follow from
the longest down, each in the smallest rest that holds it, which keeps large rests whole. Common practice, no source;
another plan may waste less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.geometry.bounds import nearest_enough

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout

KEPT = (60.0, 20.0)  # mm, length and width of the least offcut worth keeping; common practice, no source
SAME = 1e-6  # mm
CLOSE = 1e-3  # mm to which a missing length or width is found


@dataclass(frozen=True)
class Sawn:
    """A piece on the board, or a rest of the board, measured from the board's end and from its reference edge, mm."""

    name: str
    from_end: float
    from_edge: float
    length: float
    width: float
    thickness: float

    @property
    def area(self) -> float:
        """Its area on the board, mm2."""
        return self.length * self.width


@dataclass(frozen=True)
class BoardPlan:
    """pieces: in the order in which they are placed. missing: pieces without a place (their coordinates mean nothing).

    offcuts: the rests worth keeping, largest first, as thick as the board. longer_by, wider_by: how much longer, or
    else wider, a board that holds everything must be, mm; 0 where nothing is missing.
    """

    pieces: tuple[Sawn, ...]
    missing: tuple[Sawn, ...]
    offcuts: tuple[Sawn, ...]
    longer_by: float = 0.0
    wider_by: float = 0.0


def wanted_pieces(layout: Layout) -> tuple[Sawn, ...]:
    """The blank first, then the pieces glued to it. Shaft and head piece of a scarf share a cut and count as one
    piece."""
    ends, kerf = layout.design.allowance.ends, layout.design.workshop.kerf
    xs, zs = zip(*layout.blank_profile, strict=True)
    length, deep, scarf = max(xs) - min(xs), max(zs) - min(zs), layout.scarf
    if scarf is not None:
        length = scarf.board_length(layout.heel.x_end, ends, kerf)
    if layout.pieces and layout.board is not None:  # sawn from the board's whole thickness
        deep = min(deep, layout.board[2])
    blank = Sawn("blank", 0.0, 0.0, length, 2 * layout.blank_half_width, deep)
    others = [Sawn(p.name, 0.0, 0.0, *p.stock) for p in layout.pieces if p.name != "head-piece"]
    return (blank, *sorted(others, key=lambda piece: (-piece.length, piece.name)))


def plan_board(layout: Layout) -> BoardPlan | None:
    """The plan of the stated board; None where none is stated."""
    if layout.board is None:
        return None
    length, width, thickness = layout.board
    board, kerf = Sawn("board", 0.0, 0.0, length, width, thickness), layout.design.workshop.kerf
    wanted = wanted_pieces(layout)
    if layout.strips:
        return _in_the_middle(board, wanted[0], kerf)
    plan = place_pieces(board, wanted, kerf)
    if not plan.missing or any(piece.thickness > thickness + SAME for piece in wanted):
        return plan
    longer = _least(board, wanted, kerf, "length")
    return replace(plan, longer_by=longer, wider_by=_least(board, wanted, kerf, "width"))


def _in_the_middle(board: Sawn, blank: Sawn, kerf: float) -> BoardPlan:
    """The blank of a board of strips: its middle is the neck's centre line, so both edges are sawn off alike. Heel
    blocks and wings come from other wood."""
    if not _holds(board, blank):
        return BoardPlan((), (blank,), ())
    aside = (board.width - blank.width) / 2
    placed = replace(blank, from_edge=aside)
    x, far = blank.length + kerf, aside + blank.width + kerf
    rests = (
        replace(board, from_end=x, length=board.length - x),
        replace(board, length=blank.length, width=aside - kerf),
        replace(board, length=blank.length, from_edge=far, width=board.width - far),
    )
    return BoardPlan((placed,), (), _worth_keeping(rests))


def place_pieces(board: Sawn, wanted: Sequence[Sawn], kerf: float) -> BoardPlan:
    """Places each piece in turn. Where the first, the blank, has no place, none has."""
    rests = [board]
    placed: list[Sawn] = []
    missing: list[Sawn] = []
    for piece in wanted:
        holding = [rest for rest in rests if _holds(rest, piece)]
        if not holding or (missing and not placed):
            missing.append(piece)
            continue
        rest = min(holding, key=lambda r: (r.area, r.from_end, r.from_edge))
        rests.remove(rest)
        placed.append(replace(piece, from_end=rest.from_end, from_edge=rest.from_edge))
        rests += _rests(rest, piece, kerf)
    return BoardPlan(tuple(placed), tuple(missing), _worth_keeping(rests) if placed else ())


def _worth_keeping(rests: Sequence[Sawn]) -> tuple[Sawn, ...]:
    """The rests large enough to keep, largest first, named."""
    kept = [rest for rest in rests if rest.length >= KEPT[0] - SAME and rest.width >= KEPT[1] - SAME]
    kept = sorted(kept, key=lambda r: (-r.area, r.from_end))
    return tuple(replace(rest, name=f"offcut-{k + 1}") for k, rest in enumerate(kept))


def _holds(rest: Sawn, piece: Sawn) -> bool:
    return all(getattr(piece, size) <= getattr(rest, size) + SAME for size in ("length", "width", "thickness"))


def _rests(rest: Sawn, piece: Sawn, kerf: float) -> list[Sawn]:
    """The two rests beyond and beside a piece in the corner of a rest, by whichever pair of cuts leaves the larger
    offcut."""
    beyond, beside = rest.length - piece.length - kerf, rest.width - piece.width - kerf
    x, y = rest.from_end + piece.length + kerf, rest.from_edge + piece.width + kerf
    across = [  # cross-cut first, then ripped
        replace(rest, from_end=x, length=beyond),
        replace(rest, from_edge=y, length=piece.length, width=beside),
    ]
    along = [
        replace(rest, from_end=x, length=beyond, width=piece.width),
        replace(rest, from_edge=y, width=beside),
    ]
    ways = [[r for r in way if r.length > SAME and r.width > SAME] for way in (across, along)]
    return max(ways, key=lambda way: max((r.area for r in way), default=0.0))


def _least(board: Sawn, wanted: Sequence[Sawn], kerf: float, size: str) -> float:
    """How much more of one size the board needs to hold everything, mm; 0 where more of that size alone never
    suffices."""

    def all_fit(by: float) -> bool:
        larger = replace(board, **{size: getattr(board, size) + by})
        return not place_pieces(larger, wanted, kerf).missing

    most = float(sum(getattr(piece, size) + kerf for piece in wanted))
    return nearest_enough(all_fit, 0.0, most, CLOSE) or 0.0
