"""The scarf: where the seam of a glued-on head lies, and how much stock its two pieces take. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Point
from neckmodel.layout.neck.outside import LEAST_STOCK, Outside
from neckmodel.layout.wood.strips import lay_strips, mirrored

if TYPE_CHECKING:
    from neckmodel.design import Design

PLACES = 400  # places looked at for the seam on the back


def scarf_face(thickness: float, angle: float) -> float:
    """Length of a scarf's sawn face through a board, mm: `t / sin(angle)`; angle in degrees."""
    return thickness / math.sin(math.radians(angle))


def scarf_projection(thickness: float, angle: float) -> float:
    """Length that a scarf takes along the board, mm: `t / tan(angle)`."""
    return thickness / math.tan(math.radians(angle))


@dataclass(frozen=True)
class Scarf:
    """A scarfed head. way: "under" (the head piece lies under the shaft, the seam level at z = -shaft) or "on-ramp" (it
    lies on the shaft's ramp, the seam parallel to the head's face and one head thickness below it).

    shaft: thickness of the shaft's board, mm. x_top: where the seam comes out above, on the head's face or on the glue
    plane. x_back: where it meets the plane of the head's back, or the shaft's back. x_keel: where it comes out of the
    finished wood below, at the deepest line. apart: the head piece is sawn with a slanting cut of its own,
    so that it can be turned over end for end: turned over sideways, strips that are not alike on both sides would lie
    the other way.
    """

    way: str
    angle: float
    x_line: float
    head_thickness: float
    head_length: float
    shaft: float
    x_top: float
    x_back: float
    x_keel: float
    apart: bool = False

    def seam(self, x: float) -> float:
        """z of the seam."""
        if self.way == "under":
            return -self.shaft
        return (x - self.x_top) * math.tan(math.radians(self.angle))

    @property
    def seam_top(self) -> Point:
        """(x, z) of the seam's upper end, mm."""
        return self.x_top, self.seam(self.x_top)

    @property
    def seam_end(self) -> Point:
        """(x, z) of the seam's lower end, mm."""
        return self.x_keel, self.seam(self.x_keel)

    @property
    def x_shaft(self) -> float:
        """x of the shaft's farthest wood: the tip of its scarf, on the underside of its board."""
        if self.way == "under":
            return self.x_top
        return self.x_top - scarf_projection(self.shaft, self.angle)

    @cached_property
    def piece_length(self) -> float:
        """Length of the head piece along its longer side, its far end finished."""
        face = self.head_length - (scarf_face(self.shaft, self.angle) if self.way == "under" else 0.0)
        return face + scarf_projection(self.head_thickness, self.angle)

    def board_length(self, x_end: float, ends: float, kerf: float) -> float:
        """Length of board for shaft and head piece sawn one after the other with one slanting cut between them, mm.

        The shaft's tip and the head piece's lie side by side in the board, so one projection counts once; the slanting
        kerf takes `kerf / sin`. A head piece with a cut of its own is parted from the shaft square across. x_end: of
        the shaft's finished wood; ends: allowance at either end.
        """
        shaft, piece = x_end + ends - self.x_shaft, self.piece_length + ends
        if self.apart:
            return shaft + piece + kerf
        return shaft + piece - scarf_projection(self.shaft, self.angle) + scarf_face(kerf, self.angle)


def place_scarf(design: Design, outside: Outside) -> Scarf | None:
    """The seam, by the stated way; None for a head in one piece.

    The shaft's board is the stated one. Where none is stated, or it is too thin for the neck (`stock/size` reports
    that), it is the shaft's sawn depth. Under the shaft: the seam at z = -t, its feather on the head's face at x_b -
    t/tan. On the ramp: it meets z = 0 at x_b + t_h/sin, and the back (z = -b) at that - b/tan.
    """
    head = outside.head
    if head.kind != "scarfed":
        return None
    way, board = design.head.scarf, design.board
    least = outside.deepest_shaft + LEAST_STOCK
    sawn = max(outside.deepest_shaft, outside.deepest_volute) + design.allowance.back
    shaft = board.trued[2] if board is not None and board.trued[2] >= least else sawn
    if way == "under":
        x_top = head.x_line - scarf_projection(shaft, head.angle)
        x_back = x_top + scarf_face(head.thickness, head.angle)
    else:
        x_top = head.x_line + scarf_face(head.thickness, head.angle)
        x_back = x_top - scarf_projection(outside.back.depth(0.0), head.angle)
    found = Scarf(
        way=way,
        angle=head.angle,
        x_line=head.x_line,
        head_thickness=head.thickness,
        head_length=head.length,
        shaft=shaft,
        x_top=x_top,
        x_back=x_back,
        x_keel=x_back,
        apart=not mirrored(lay_strips(design)),
    )
    return replace(found, x_keel=_on_keel(outside, found))


def _on_keel(outside: Outside, scarf: Scarf) -> float:
    """x at which the seam comes out of the finished back at the deepest line, mm: counted from the body, the last place
    that has wood below the seam on the head piece's side."""

    def below(x: float) -> float:
        return outside.keel(x) + scarf.seam(x)

    # toward the head the wood below a level seam grows; below a ramp's it shrinks
    sign = 1.0 if scarf.way == "under" else -1.0
    start = outside.back.x_1 if scarf.way == "under" else scarf.x_top
    end = outside.head.x_far if scarf.way == "under" else outside.x_head_run_out
    step = (end - start) / PLACES
    for k in range(PLACES):
        a, b = start + k * step, start + (k + 1) * step
        if sign * below(a) <= 0 < sign * below(b):
            found = nearest_enough(lambda x: sign * below(x) > 0, a, b)
            return b if found is None else found
    return scarf.x_back
