"""The order of work on the fretboard: making it, and gluing it on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.lengths import listed
from neckmodel.work import cautions
from neckmodel.work.later import edge_words
from neckmodel.work.one_piece import crown_words
from neckmodel.work.operation import GLUING, Work, words_of
from neckmodel.work.rod import lay_rod

if TYPE_CHECKING:
    from neckmodel.layout import Layout

APART = {"mm": "60 mm", "in": "2 1/2 in"}  # distance between clamps over a fretboard; common practice, no source


def make_fretboard(layout: Layout) -> Work:
    """Planing the fretboard, sawing its fret slots and its taper."""
    board, say = layout.fretboard, words_of(layout)
    checks = ["the fretboard is as wide as that, and straight along both sides"]
    if board.later is not None:
        checks = ["both edges lie on the lines of the sheet, and the S has no corner"]
    if not math.isinf(board.radius_nut):
        edges = [say(board.edge_thickness(x)) for x in (0.0, board.x_end)]
        checks = [f"the edges are {edges[0]} thick at the nut and {edges[1]} at the end"]
    ends = [name for name, slope in (("nut end", board.slope_start), ("body end", board.slope_end)) if slope]
    is_ = "is" if len(ends) == 1 else "are"
    if layout.in_one:
        says = (crown_words(layout), *_crown_and_slots(layout))
        return Work("Shape the fretboard's face", says, (cautions.SAW, cautions.DUST), checks=tuple(checks[1:]))
    slanted = f" Its {listed(ends)} {is_} slanted, as the fretboard sheet shows." if ends else ""
    return Work(
        "Make the fretboard",
        (
            f"Plane the fretboard {say(board.thickness)} thick, with parallel sides. {_marked(layout)}",
            *_crown_and_slots(layout),
            edge_words(layout)
            or f"Saw and plane the taper: {say(2 * board.half_width(0.0))} wide at the nut, "
            f"{say(2 * board.half_width(board.x_end))} at x {say(board.x_end)}.{slanted}",
        ),
        (cautions.SAW, cautions.DUST),
        checks=tuple(checks),
    )


def _marked(layout: Layout) -> str:
    sheet = words_of(layout).printed("fretboard")
    if not layout.sawn:
        return f"Mark the centre line and the datum by the fretboard sheet ({sheet})."
    return (
        f"Mark the centre line, the datum and the {len(layout.sawn)} fret slots by the fretboard sheet ({sheet}), each "
        "from the datum, and start them with the saw while the sides are parallel."
    )


def _crown_and_slots(layout: Layout) -> list[str]:
    """The order of crown and fret slots, and what fills these: slots whose floor follows the crown are sawn after it,
    slots with a level floor before it."""
    board, say = layout.fretboard, words_of(layout)
    slots = f"the fret slots {say.fine(board.slot_width)} wide and {say.fine(board.slot_depth)} deep"
    flat = math.isinf(board.radius_nut)
    crown = "" if flat else f"lane the crown to a radius of {say(board.radius_nut)}"
    if board.radius_nut != board.radius_end:
        crown += f" at the nut and {say(board.radius_end)} at the end"
    if not layout.sawn:
        says = ["The fretboard stays flat." if flat else f"P{crown}."]
    elif flat:
        says = [f"Saw {slots}. The fretboard stays flat."]
    elif board.slot_floor == "curved":
        says = [f"P{crown}. Then saw {slots}, along the crown."]
    else:
        says = [f"Saw {slots}, level across. Then p{crown}: at the edges the fret slots come out shallower."]
    return [*says, *_filled(layout)]


def _filled(layout: Layout) -> list[str]:
    """What fills the fret slots of a lined fretboard."""
    board, filler, say = layout.fretboard, layout.design.fretboard.fret_slot.filler, words_of(layout)
    if not (layout.fretless and layout.sawn):
        return []
    face = "fretboard" if math.isinf(board.radius_nut) else "crown"
    return [
        f"Glue a strip of {filler}, {say.fine(board.slot_width)} thick, into each fret slot down to its floor, and "
        f"once the glue has set plane and scrape it flush with the {face}."
    ]


def nut_groove(layout: Layout) -> Work | None:
    """Cutting the nut's groove; None for a nut on a ledge."""
    nut, say = layout.nut, words_of(layout)
    if nut.z_seat == 0:
        return None
    slanted = " It is slanted as the marking-out sheet shows." if nut.slope else ""
    return Work(
        "Cut the nut's groove",
        (
            f"Saw and pare the groove from x {say(nut.x_start)} to {say(nut.x_end)} on the centre line, "
            f"{say(-nut.z_seat)} below the glue plane, across the whole neck.{slanted}",
        ),
        (cautions.CHISEL,),
        checks=("the nut goes in by hand and stands upright",),
    )


def glue_fretboard(layout: Layout) -> Work | None:
    """Gluing on the fretboard; None where it is one piece with the neck."""
    if layout.in_one:
        return None
    board, strip, say = layout.fretboard, layout.nut_strip, words_of(layout)
    flat = math.isinf(board.radius_nut)
    more = "" if strip is None else " Glue on the strip behind the nut's groove with it."
    at = "the datum" if board.x_start == 0 else f"x {say(board.x_start)}"
    nut_end = f"its nut end {'on' if board.x_start == 0 else 'at'} {at}"
    if board.slope_start:
        nut_end = f"its slanted nut end crossing that line at {at}"
    clear = ", clear of the channel," if layout.steps else ""
    spreads = "A flat batten" if flat else "A caul with the fretboard's crown"
    pins = f"Two pins in fret slots{clear}"
    if layout.fretless:  # nothing hides their holes but the joint itself
        pins = f"Two short pins in the glue plane{clear or ','} their heads nipped off,"
    says = [
        *lay_rod(layout),
        f"Lay the fretboard on the centre line, {nut_end}. {pins} keep it from "
        f"sliding on the wet glue. {spreads} spreads the pressure; a clamp at every {APART[say.unit]} or nearer. "
        f"{GLUING}{more}",
    ]
    says.append("Let the neck rest after that, at least for a day: the water in most glues bends it for a while.")
    checks = ["no gap along either edge"]
    if layout.rod is not None:
        ways = (
            "a quarter of a turn both ways and back"
            if layout.rod.kind == "two-way"
            else "in until it takes hold, and back off"
        )
        turns = "each adjuster turns" if layout.paired else "the adjuster turns"
        checks.append(f"once the glue has set for its full time: {turns} {ways}, to slack")
    return Work("Glue on the fretboard", tuple(says), (cautions.GLUE,), checks=tuple(checks))
