"""The rules of a board that is glued up from strips."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, Needing, length, more_than, needs
from neckmodel.design.tables.board import LEAST_STRIP
from neckmodel.limits import TRUED_OFF_EDGE

_SAME = 0.005  # mm, widths measured with callipers that are this near add up


@needs("board")
def strips_add_up(design: Design) -> Iterator[Broken]:
    """The strips of a board must come to its width, as planned; what is measured later may be less."""
    board = design.board
    if board is None or not board.strips or design.measured is not None:
        return
    total = sum(strip.width for strip in board.strips)
    if abs(total - board.width) > _SAME:
        says = f"is not what its strips come to, {length(total)}"
        yield Broken("board.width", says, f"allowed is {length(total)}", "leave board.width out, or change a strip")


@needs("board")
def strips_left(design: Design) -> Iterator[Broken]:
    """Of a rough board, truing must leave something of its outer strips."""
    board = design.board
    if board is None or not board.strips or board.surface == "trued":
        return
    for k in (0, len(board.strips) - 1):
        if board.strips[k].width < TRUED_OFF_EDGE + LEAST_STRIP:
            says = f"is planed away: truing a rough board takes {length(TRUED_OFF_EDGE)} off each edge"
            least = more_than(TRUED_OFF_EDGE + LEAST_STRIP)
            yield Broken(f"board.strips.{k}.width", says, least, 'or state board.surface = "trued"')


BOARD_RULES: tuple[Needing, ...] = (strips_add_up, strips_left)
