"""The order of work: what is done after what, with numbers, checks and cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.work.behind import bore_for_key, glue_back_strip, rout_behind, try_behind
from neckmodel.work.blank import glue_scarf, heel_blocks, mark_out, rest_again, rough_out, saw_profile, true_blank
from neckmodel.work.channel import rout_channel, rout_slot, try_key, try_parts
from neckmodel.work.dovetail import cut_dovetail, glue_cap
from neckmodel.work.fretboard import glue_fretboard, make_fretboard, nut_groove
from neckmodel.work.later import bore_peg
from neckmodel.work.neck import carve, cut_tenon, drill, fit_to_body, head_wings, saw_plan, wings_of_body
from neckmodel.work.one_piece import of_one_piece
from neckmodel.work.operation import Work
from neckmodel.work.rod import cover_strip, glue_bars, string_up
from neckmodel.work.slots import bore_head, cut_slots
from neckmodel.work.soundhole import bore_body
from neckmodel.work.strips import glue_up

if TYPE_CHECKING:
    from neckmodel.layout import Layout

__all__ = ["Work", "order_of_work"]

# All of it common practice, no source. The channel is routed while the blank is still square: it lies flat, the base of
# the router has no step to tip over, and the fence has a straight edge. The key can be tried only once the head is
# sawn. From the back it is routed once the shaft's back is sawn level, which then carries the router. Whatever is glued
# in comes after the last truing of the glue plane, and before the fretboard.
IN_ORDER = (
    glue_up,
    rough_out,
    glue_scarf,
    true_blank,
    mark_out,
    rout_channel,
    try_parts,
    rout_slot,
    heel_blocks,
    saw_profile,
    rout_behind,
    try_behind,
    bore_for_key,
    try_key,
    cut_tenon,
    cut_dovetail,
    head_wings,
    bore_head,
    cut_slots,
    drill,
    rest_again,
    glue_bars,
    cover_strip,
    glue_back_strip,
    saw_plan,
    make_fretboard,
    nut_groove,
    glue_fretboard,
    wings_of_body,
    carve,
    bore_peg,
    bore_body,
    glue_cap,
    fit_to_body,
    string_up,
)


def order_of_work(layout: Layout) -> tuple[Work, ...]:
    """From the board to the finished neck, only the work that this design needs."""
    works = tuple(work for make in IN_ORDER if (work := make(layout)) is not None)
    return of_one_piece(works) if layout.in_one else works
