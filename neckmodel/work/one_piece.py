"""The order of work on a neck in one piece with its fretboard: what is said otherwise than of two pieces."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.work import cautions
from neckmodel.work.operation import Work, words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SEAM = ("the glue plane", "plane z = 0")


def without_seam(text: str) -> str:
    """A text as it reads of a neck without a seam: the glue plane is only a plane that heights count from."""
    return text.replace(*SEAM).replace("glue plane", SEAM[1])


def of_one_piece(works: tuple[Work, ...]) -> tuple[Work, ...]:
    """The order of work of such a neck."""
    return tuple(
        replace(
            work,
            title=without_seam(work.title),
            says=tuple(without_seam(line) for line in work.says),
            checks=tuple(without_seam(line) for line in work.checks),
        )
        for work in works
    )


def upper_face(layout: Layout) -> str:
    """Where plane z = 0 lies in the blank, as a sentence."""
    say = words_of(layout)
    return (
        f"Neck and fretboard are one piece: the upper face becomes the crown, and plane z = 0, from which every height "
        f"counts, lies {say(layout.fretboard.thickness)} below it. Scribe that plane along both sides with a gauge."
    )


def sawn_down(layout: Layout) -> str:
    """What is sawn down to plane z = 0 beside the fretboard, as a sentence."""
    say, board = words_of(layout), layout.fretboard
    start, end = min(x for x, _ in board.start), max(x for x, _ in board.end)
    aslant = ", aslant as the marking-out sheet shows," if board.slope_start or board.slope_end else ""
    says = f"Saw and pare the upper face down to plane z = 0 from the head line to the nut's place at x {say(start)}"
    if end < layout.heel.x_end - 1e-6:
        says += f", and beyond the fretboard's end at x {say(end)}"
    return f"{says}{aslant} upright walls, their edges sharp."


def rest_in_one(layout: Layout) -> Work:
    """Resting; and the last truing of the upper face, which later becomes the crown."""
    say, plane = words_of(layout), layout.design.workshop.tolerances.glue_plane
    return Work(
        "Let it rest, and true the upper face",
        (
            "Let the blank rest again for some days, free on all sides: wood moves when so much is cut away. Then "
            f"hold a straightedge to the upper face. Where it is off by more than {say(plane)}, plane it true, and "
            "take off as little as will do: it thins the wood over what is cut from the back.",
        ),
        (cautions.DUST,),
        checks=(f"under a straightedge the upper face is flat within {say(plane)}",),
    )


def crown_words(layout: Layout) -> str:
    """The first sentence on shaping the fretboard's own face."""
    sheet, board = words_of(layout).printed("fretboard"), layout.fretboard
    flat = "" if not math.isinf(board.radius_nut) else " It stays flat."
    slots = f"the {len(layout.sawn)} fret slots" if layout.sawn else "the datum"
    return (
        f"On the neck's own upper face mark the centre line and {slots} by the fretboard sheet ({sheet}), each from "
        f"the datum.{flat}"
    )
