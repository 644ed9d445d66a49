"""The order of work of a board that is glued up from strips. All of it common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.wood.strips import LEAST_PLANED, rough_size, seams_of, seams_within, strips_over
from neckmodel.lengths import listed
from neckmodel.work import cautions
from neckmodel.work.operation import GLUING, Work, words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def glue_up(layout: Layout) -> Work | None:
    """Planing the strips and gluing up the board; None for a board of one piece."""
    board = layout.design.board
    if board is None or not layout.strips:
        return None
    say, veneers = words_of(layout), any(strip.width < LEAST_PLANED for strip in layout.strips)
    rough = "; ".join(
        f"strip {strip.number}, {strip.wood}: {say.sizes(rough_size((board.length, board.thickness, strip.width)))}"
        for strip in layout.strips
    )
    in_order = "; ".join(f"strip {strip.number}, {strip.wood}: {say(strip.width)}" for strip in layout.strips)
    thin = f" A veneer under {say(LEAST_PLANED)} is glued as it comes: flat, clean and free of wax." if veneers else ""
    last = layout.strips[-1].number
    return Work(
        "Glue up the board",
        (
            "Saw out the strips, and let them rest on thin sticks for a week at least, where the neck will be built. "
            f"Rough, length x height x width: {rough}.",
            f"Plane the two faces of each strip that will be glued flat and parallel, to its width: {in_order}. The "
            f"grain of all runs along the board, with the same way to plane it.{thin}",
            f"Lay the strips side by side, 1 on the bass side, {last} on the treble side, and try them dry. Glue them "
            "between straight battens, their upper edges level and one end flush; wax or thin plastic keeps the "
            f"battens free. {GLUING}",
            "Let the board stand for a week at least, with air on all its faces: glue wets the wood beside each seam, "
            f"and what is planed too soon sinks there later. Then true it, to {say(board.thickness)} thick.",
        ),
        (cautions.SAW, cautions.DUST, cautions.GLUE),
        checks=(
            "dry, before any glue: no light through a joint, pressed together by hand",
            f"the strips are {say(board.laid)} wide together",
        ),
    )


def from_middle(layout: Layout) -> str:
    """Where the blank comes from in a board of strips, and what does not come from it; empty for one of one piece."""
    if not layout.strips:
        return ""
    others = [plain(piece.name) for piece in layout.pieces if piece.name != "head-piece"]
    rest = f" Saw {listed(others)} from other wood: {layout.design.neck.wood}." if others else ""
    return f"The blank comes out of the board's middle, as much off one edge as off the other.{rest}"


def from_seam(layout: Layout) -> str:
    """Where the reference edge lies beside the strips; empty where no seam runs in the blank."""
    half = layout.blank_half_width
    seams = seams_within(layout.strips, -half, half)
    if not seams:
        return ""
    say, number = words_of(layout), seams_of(layout.strips).index(seams[0]) + 1
    return (
        f"Plane the reference edge until the seam between strips {number} and {number + 1} lies "
        f"{say(half + seams[0])} from it: then the seams lie where the drawings have them."
    )


def met_by_holes(layout: Layout) -> list[str]:
    """A sentence for each hole that meets a seam, and for each screw about the strips in which it bites."""
    say, half, found = words_of(layout), layout.blank_half_width, []
    holes = [(tuner.name, tuner.on_face[1], tuner.hole) for tuner in layout.tuners]
    holes += [(screw.name, screw.y, screw.hole) for screw in layout.screws]
    for name, y, hole in holes:
        low, high = max(y - hole / 2, -half), min(y + hole / 2, half)
        seams = (
            [f"y {say(layout.across(seam))}" for seam in seams_within(layout.strips, low, high)] if low < high else []
        )
        if seams:
            which = f"the seam at {seams[0]}" if len(seams) == 1 else f"the seams at {listed(seams)}"
            found.append(
                f"{plain(name)} meets {which}: the drill wanders toward the softer wood. Start it with a thin drill, "
                "and feed it slowly."
            )
    for screw in layout.screws if layout.strips else ():
        under = strips_over(layout.strips, screw.y - screw.diameter / 2, screw.y + screw.diameter / 2)
        found.append(f"{plain(screw.name)} bites in {listed(dict.fromkeys(layout.strips[k].wood for k in under))}.")
    return found


def met_by_bores(layout: Layout) -> list[str]:
    """A sentence about each seam that a hole bored from the head's side goes through."""
    say, half, found = words_of(layout), layout.blank_half_width, []
    for roller in layout.rollers:
        low, high = sorted((roller.y_end, roller.sign * half))
        seams = [f"y {say(layout.across(seam))}" for seam in seams_within(layout.strips, low, high)]
        if seams:
            which = f"the seam at {seams[0]}" if len(seams) == 1 else f"the seams at {listed(seams)}"
            found.append(f"{plain(roller.name)} goes through {which}: feed the drill slowly where the wood changes.")
    return found
