"""The pieces that the neck is glued up from, each a region of the finished wood. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.neck.outside import LEAST_STOCK, Outside
from neckmodel.layout.sides import SIGNS
from neckmodel.layout.wood.scarf import Scarf, scarf_projection
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design

PAST = 20.0  # mm by which a region reaches past all wood
LEAST_BLOCK = 3.0  # mm; a thinner piece under the heel is nothing to glue; common practice, no source
LEAST_WING = 1.0  # mm of wing in the finished head; less is nothing to glue


@dataclass(frozen=True)
class Piece:
    """A part glued to the neck: all finished wood inside the side-view polygon `profile` (x, z) and between two y.

    stock: length, width and thickness of the wood that it is made from. seam: z or y of its glued face; None where that
    face is neither level nor upright (a ramp).
    """

    name: str
    profile: tuple[Point, ...]
    y_from: float
    y_to: float
    stock: tuple[float, float, float]
    seam: float | None = None


def neck_pieces(
    design: Design, outside: Outside, scarf: Scarf | None, half: float, profile: tuple[Point, ...]
) -> tuple[Piece, ...]:
    """The pieces: wings first, then the head piece, then heel blocks from the lowest up. Each takes its region out of
    what the earlier ones have left.

    half: half width of the blank, mm; profile: its sawn side.
    """
    found = [*_wings(design, outside, half, profile)]
    if scarf is not None:
        found.append(_head_piece(design, outside, scarf, half, profile))
    return (*found, *_heel_blocks(design, outside, half, profile))


def _low(profile: tuple[Point, ...]) -> float:
    return min(z for _, z in profile) - PAST


def _wide(outside: Outside) -> float:
    return outside.widest + PAST


def _head_piece(design: Design, outside: Outside, scarf: Scarf, half: float, profile: tuple[Point, ...]) -> Piece:
    low, x_far, wide = _low(profile), outside.head.x_far - PAST, _wide(outside)
    if scarf.way == "under":
        x_to, z = outside.back.x_1, -scarf.shaft
        region: tuple[Point, ...] = ((x_far, z), (x_to, z), (x_to, low), (x_far, low))
    else:
        # the region begins where the carve has left the head's back, for seam and back lie in one plane
        x_from, x_over = outside.x_head_stock, scarf.x_top + scarf_projection(PAST, scarf.angle)
        region = ((x_far, PAST), (x_over, PAST), (x_from, scarf.seam(x_from)), (x_from, low), (x_far, low))
    length = scarf.piece_length + design.allowance.ends
    stock = (length, 2 * half, scarf.head_thickness)
    return Piece("head-piece", region, -wide, wide, stock, -scarf.shaft if scarf.way == "under" else None)


def stack(design: Design, outside: Outside) -> tuple[tuple[float, float], ...]:
    """(z_top, z_bottom) of each block glued under the heel, where the board is thinner than the heel is deep, mm.

    A board too thin even for the shaft gets no stack, nor does a missing rest thinner than LEAST_BLOCK; `stock/size`
    reports both. A neck that runs through is sawn from one thickness.
    """
    board, heel = design.board, outside.heel
    if board is None or heel.kind == "through" or board.trued[2] < outside.deepest_shaft + LEAST_STOCK:
        return ()
    thick = board.trued[2]
    rest = heel.depth - thick
    if rest < LEAST_BLOCK:
        return ()
    count = math.ceil(rest / thick - 1e-9)
    tops = [thick * (k + 1) for k in range(count)]
    bottoms = [*tops[1:], heel.depth]
    if count > 1 and bottoms[-1] - tops[-1] < LEAST_BLOCK:  # the last piece would be thin: the last two share the rest
        tops[-1] = bottoms[-2] = (tops[-2] + heel.depth) / 2
    return tuple((-top, -bottom) for top, bottom in zip(tops, bottoms, strict=True))


def _heel_blocks(design: Design, outside: Outside, half: float, profile: tuple[Point, ...]) -> list[Piece]:
    heel, wide = outside.heel, _wide(outside)
    found = []
    for k, (top, bottom) in enumerate(stack(design, outside)):
        x_from = _where_at(profile, top, heel.x_swell)
        xs = [x for x, z in profile if z <= top + 1e-9 and x > heel.x_swell]
        length = max(xs, default=heel.x_end) - x_from
        last = bottom <= -heel.depth + 1e-9
        region = _box(_shaft_middle(outside), heel.x_end + PAST, top, _low(profile) if last else bottom)
        found.append(Piece(f"heel-block-{k + 1}", region, -wide, wide, (length, 2 * half, top - bottom), top))
    return found[::-1]


def _shaft_middle(outside: Outside) -> float:
    return (outside.back.x_1 + outside.heel.x_swell) / 2


def _box(x_from: float, x_to: float, top: float, bottom: float) -> tuple[Point, ...]:
    return ((x_from, top), (x_to, top), (x_to, bottom), (x_from, bottom))


def _where_at(profile: tuple[Point, ...], z: float, x_to: float) -> float:
    """x at which the heel's ramp passes the height z, mm; x_to where it does not."""
    for (a, za), (b, zb) in zip(profile, [*profile[1:], profile[0]], strict=True):
        if b < a <= x_to + 1e-9 and za <= z < zb:
            return a + (b - a) * (z - za) / (zb - za)
    return x_to


def core_half(design: Design, outside: Outside) -> float:
    """Half width of the blank, mm: the widest finished wood and the allowance, not counting head sides that are glued
    on as wings."""
    if not design.head.wings:
        return outside.widest + design.allowance.sides
    back, heel = outside.back, outside.heel
    end = heel.half_width if heel.half_width is not None else back.half_width(heel.x_end)
    winged = {wing.side for wing in design.head.wings}
    bare = [outside.head.reach(sign) for side, sign in SIGNS if side not in winged]
    widest = max(end, back.reach(outside.head.x_line), back.reach(heel.x_swell), *bare, 0.0)
    return widest + design.allowance.sides


def _wings(design: Design, outside: Outside, half: float, profile: tuple[Point, ...]) -> list[Piece]:
    head, low = outside.head, _low(profile)
    found: list[Piece] = []
    for side, sign in SIGNS:
        wings = [(k, wing) for k, wing in enumerate(design.head.wings) if wing.side == side]
        if not wings:
            continue
        reach, near = head.reach(sign), half
        if reach < half + LEAST_WING:
            more = "hardly farther than" if reach > half else "no farther than"
            raise design.problem(
                f"head.wings.{wings[0][0]}",
                f"the head reaches {reach:.2f} mm on the {side} side, {more} the blank with its {half:.2f} mm",
                "",
                "leave the wing out",
            )
        for n, (k, wing) in enumerate(wings):
            last = n == len(wings) - 1
            if reach < near + LEAST_WING:
                raise design.problem(f"head.wings.{k}", "the wings inside it already reach the outline", "leave it out")
            far = near + wing.width
            if last and far < reach:
                least = f"at least {no_less(wing.width + reach - far)}"
                raise design.problem(f"head.wings.{k}.width", f"does not reach the outline's {reach:.2f} mm", least)
            need = _along(outside, sign, near)
            if wing.length < need:
                raise design.problem(
                    f"head.wings.{k}.length",
                    "does not reach all of the head beyond the blank",
                    f"at least {no_less(need)}",
                )
            outer = far + PAST if last else far
            y_from, y_to = sorted((sign * near, sign * outer))
            region = _box(head.x_far - PAST, head.x_line, PAST, low)
            stock = (wing.length, wing.width, head.thickness)
            found.append(Piece(f"wing-{k + 1}", region, y_from, y_to, stock, sign * near))
            near = far
    return sorted(found, key=lambda piece: piece.name)


def _along(outside: Outside, sign: int, y: float) -> float:
    """How far from its far end, along the face, the head is wider than y on one side, mm."""
    head = outside.head
    if head.contour is not None:
        x = head.contour.last_beyond(sign, y)
    else:
        step = (head.x_line - head.x_far) / 400
        wide = [k for k in range(401) if _side(outside, sign, head.x_far + k * step) > y]
        x = head.x_far + min(max(wide, default=-1) + 1, 400) * step
    return (x - head.x_far) / math.cos(math.radians(head.angle))


def _side(outside: Outside, sign: int, x: float) -> float:
    """How far from the centre line one side of the neck lies at x, mm."""
    return outside.half_width(x) + sign * outside.middle(x)
