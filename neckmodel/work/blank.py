"""The order of work on the blank: from the board to its sawn side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import StepName, plain
from neckmodel.layout.wood.scarf import scarf_face
from neckmodel.layout.workshop.board import wanted_pieces
from neckmodel.layout.workshop.router import leaves_wood
from neckmodel.lengths import listed
from neckmodel.limits import TRUED_OFF
from neckmodel.work import cautions
from neckmodel.work.one_piece import rest_in_one, sawn_down, upper_face
from neckmodel.work.operation import GLUING, Work, words_of
from neckmodel.work.strips import from_middle, from_seam
from neckmodel.work.words import datum_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.wood.pieces import Piece

SAME = 1e-6  # mm
MOISTURE = "6 to 9 %"  # of the wood at build; common practice, no source


def rough_out(layout: Layout) -> Work:
    """Sawing out roughly, and resting the wood."""
    say = words_of(layout)
    wanted = "; ".join(
        f"{plain(piece.name)}, {say.sizes((piece.length, piece.width, piece.thickness))}"
        for piece in wanted_pieces(layout)
    )
    hand = listed(_bought(layout))
    first = f"Have {hand} in your hand and measure them: every number here follows from theirs. " if hand else ""
    return Work(
        "Saw out roughly, and let the wood rest",
        (
            f"{first}Saw out, with all the wood to spare that the board has: {wanted}. These are sizes after truing."
            + (f" {middle}" if (middle := from_middle(layout)) else ""),
            "Lay the wood on thin sticks where the neck will be built, so that air reaches every face, and let it rest "
            "until its weight no longer changes: a week at least (common practice). Only then true it.",
        ),
        (cautions.SAW, cautions.DUST),
        checks=(f"a moisture meter reads {MOISTURE} (common practice)",),
    )


def _bought(layout: Layout) -> list[str]:
    """The parts that are bought and must be measured before the wood is cut to them."""
    screws = {"wood-screw": "screws", "insert": "inserts", "dowel": "dowels"}
    kinds = dict.fromkeys(screws[screw.kind] for screw in layout.screws)
    there = (
        ("both rods" if layout.paired else "the rod", layout.rod),
        ("their key" if layout.paired else "its key", layout.key),
        ("the bars" if len(layout.bars) > 1 else "the bar", layout.bars),
        ("the tuners", layout.tuners or layout.rollers),
        ("the clamp", layout.clamp),
        (f"the heel's {listed(kinds)}", layout.screws),
    )
    return [name for name, found in there if found]


def glue_scarf(layout: Layout) -> Work | None:
    """Gluing on the head, before anything is trued; None for a head in one piece."""
    scarf = layout.scarf
    if scarf is None:
        return None
    say = words_of(layout)
    piece = next(piece for piece in layout.pieces if piece.name == "head-piece")
    face = say(scarf_face(scarf.shaft, scarf.angle))
    under = say(layout.heel.x_end + layout.design.allowance.ends - scarf.x_shaft)
    if scarf.way == "under":
        lies, seam = (
            "its sloping face under the shaft: the shaft's own sloping face goes on as the head's",
            "head's face",
        )
    else:
        lies, seam = (
            "its flat face on the shaft's sloping face: its own goes on level with the glue plane",
            "glue plane",
        )
    cut = f"Saw the scarf: one cut at {scarf.angle:g} deg parts the blank into shaft and head piece"
    if scarf.apart:
        cut = (
            "The strips are not alike on both sides, so the head piece is turned over end for end, and gets a cut of "
            f"its own: part shaft and head piece square across. Saw the shaft's end at {scarf.angle:g} deg, its tip on "
            "the under side. Saw the head piece's other end, the far end of the blank, at the same angle, its tip on "
            "the upper side"
        )
    return Work(
        "Glue on the head",
        (
            f"{cut}, the shaft {under} long on its under side, its sloping face {face} long. Clamp the two on each "
            "other with both sloping faces in one plane, and plane them true together.",
            f"Head piece, {say.sizes(piece.stock)}: the length is that of its longer side. Where it is thicker, plane "
            "it down on its shorter side, to a shaving more than that: planed on its longer side, the head would come "
            "out too short.",
            f"Glue it with {lies}. Its grain runs along the neck. A stop at its thin end keeps it from sliding when "
            f"the clamps bite. {GLUING}",
        ),
        (cautions.SAW, cautions.DUST, cautions.GLUE),
        checks=(
            "dry, before any glue: no light through the joint",
            f"the seam comes out at x {say(scarf.x_top)} on the {seam} and at x {say(scarf.x_keel)} below",
        ),
    )


def true_blank(layout: Layout) -> Work:
    """Planing the blank true."""
    say, plane = words_of(layout), layout.design.workshop.tolerances.glue_plane
    thick = say(wanted_pieces(layout)[0].thickness)
    glued = layout.scarf is not None or any(piece.name.startswith("heel-block") for piece in layout.pieces)
    sawn = f"{layout.head.named} and heel are sawn and every hole is drilled"
    last = "the last cut with a fence" if layout.steps else sawn
    becomes = "" if layout.in_one else ": it becomes the glue plane"
    says = [
        f"Plane the upper face flat{becomes}. Plane the bass-side edge straight and square to it: the "
        "reference edge. Plane the under side parallel to the upper face, so that the blank lies without rocking, "
        f"{thick} thick" + (", for what is glued under it." if glued else " or more."),
        f"Saw and plane the treble side parallel to the reference edge, {say(2 * layout.blank_half_width)} wide in "
        f"all. The sides stay parallel until {last}: the taper comes later.",
    ]
    if beside := from_seam(layout):
        says.insert(1, beside)
    if spare := _stated_as_trued(layout):
        says.insert(1, spare)
    if layout.in_one:
        says.append(upper_face(layout))
    if layout.scarf is not None:
        line = say(layout.head.x_line)
        says[-1:-1] = [f"Plane the head's face until it meets the glue plane in a line square across, at x {line}."]
    return Work(
        "True the blank",
        tuple(says),
        (cautions.SAW, cautions.DUST),
        checks=(f"under a straightedge the glue plane is flat within {say(plane)}, and the edge is square to it",),
    )


def _stated_as_trued(layout: Layout) -> str:
    """What to do where a board stated as trued leaves little to plane off; empty where it leaves enough."""
    say, board, thick = words_of(layout), layout.design.board, wanted_pieces(layout)[0].thickness
    if board is None or board.surface != "trued" or board.thickness - thick >= TRUED_OFF:
        return ""
    return (
        f"The board is stated as trued and {say(board.thickness)} thick: take off only what has moved while it rested. "
        f"Where less than {say(thick)} stays, write what you find as board.thickness under [measured], and run the "
        "checks."
    )


def mark_out(layout: Layout) -> Work:
    """Marking out from the datum."""
    say = words_of(layout)
    why = ": routing takes away what is drawn above" if layout.steps else ""
    lines = ""
    if layout.paired:
        lines = f" and a line for either rod {say(layout.rods[1].y)} to each side of it"
    return Work(
        "Mark out",
        (
            f"Draw the centre line {say(layout.blank_half_width)} from the reference edge{lines}. Square the datum "
            f"({datum_words(layout)}) across, and mark every station of the marking-out sheet from it, never one from "
            f"another. Carry datum{'' if layout.head.is_none else ', head line'} and joint down both sides{why}.",
        ),
        checks=(f"measured once more from the datum, the joint lies at x {say(layout.heel.x_joint)}",),
    )


def heel_blocks(layout: Layout) -> Work | None:
    """Gluing the blocks under the heel, after the routing, for which the under side must be flat; None without
    blocks."""
    blocks = [p for p in layout.pieces if p.name.startswith("heel-block") and p.seam is not None]
    if not blocks:
        return None
    say = words_of(layout)
    said = [
        f"{plain(block.name)}, {say.sizes(block.stock)}: its upper face {say(-seam)} deep, from x "
        f"{say(to - block.stock[0])} to {say(to)}."
        for block, seam, to in sorted(_seamed(layout, blocks), key=lambda found: -found[1])
    ]
    true = (
        "True the blocks and the blank's under side. The grain of all runs along the neck. Glue on one after the other"
    )
    if len(blocks) == 1:
        true = "True the block and the blank's under side. The grain of both runs along the neck. Glue it on"
    return Work(
        "Glue on the heel",
        (
            f"{true}, set to its x marks and held by a stop against sliding. {GLUING}",
            *said,
        ),
        (cautions.DUST, cautions.GLUE),
        checks=("dry, before any glue: no light through a joint",),
    )


def _seamed(layout: Layout, blocks: list[Piece]) -> list[tuple[Piece, float, float]]:
    """(block, z of its upper face, x of its body end) of each block; it ends where the blank does at that depth. mm."""
    return [
        (block, block.seam, max(x for x, z in layout.blank_profile if z <= block.seam + SAME))
        for block in blocks
        if block.seam is not None
    ]


def saw_profile(layout: Layout) -> Work:
    """Sawing the side profile."""
    say, head, heel = words_of(layout), layout.head, layout.heel
    off, through = layout.design.workshop.tolerances.stock, heel.kind == "through"
    bottom = "bottom of the centre block" if through else "heel's bottom"
    says, checks = [], [f"the {head.named} is {say.between(head.thickness, off)} thick"]
    if head.kind == "stepped":
        says.append(
            f"Saw and plane the head's face {say(head.drop)} below the glue plane, up to the head line at x "
            f"{say(head.x_line)}. Leave the step upright and its edge sharp."
        )
        checks.append(f"the step is {say.between(head.drop, off)} high")
    elif head.kind == "angled":
        says.append(
            f"Saw the head's face from the head line at x {say(head.x_line)}, falling by {head.angle:g} deg, and plane "
            "it flat. It meets the glue plane in a line square across."
        )
    if head.kind not in ("scarfed", "none") and any(leaves_wood(layout, step) for step in layout.steps):
        where = "step" if head.kind == "stepped" else "face"
        slots = "access slots come" if layout.paired else "access slot comes"
        slots = slots if layout.back_strip is None else "key's bore comes"
        says.append(f"The {slots} out in that {where}.")
    back = f"head's back {say(head.thickness)} under its face (measured square to the face)"
    if head.is_none:
        back = f"under side of the nut end {say(head.thickness)} below the glue plane"
    says.append(
        f"Saw the {back}, the {bottom} "
        f"{say(heel.depth)} below the glue plane, and the shaft to the side view. {head.named.capitalize()} and "
        f"{'block' if through else 'heel'} are sawn to size; the shaft keeps {say(layout.design.allowance.back)} to "
        "carve."
    )
    if head.is_none and any(leaves_wood(layout, step) for step in layout.steps):
        says.append(f"Saw the nut end off square at x {say(head.x_far)}: the access slot comes out there.")
    if heel.tenon is None and not ends_early(layout):
        says.append(f"Saw the body end off square at x {say(heel.x_end)}.")
    checks.append(f"the {bottom} lies {say.between(heel.depth, off)} below the glue plane")
    if layout.in_one:
        says.append(sawn_down(layout))
    if layout.back_strip is not None:
        face = next(step.face for step in layout.steps if step.behind)
        says.append(
            f"Plane the shaft's back between the ramps level, parallel to the upper face and {say(face)} from plane "
            "z = 0: the router stands on it, and the channel's depths count from it."
        )
        checks.append(f"the shaft's level back lies {say.between(face, off)} from plane z = 0")
    return Work("Saw the side profile", tuple(says), (cautions.SAW, cautions.DUST), checks=tuple(checks))


def ends_early(layout: Layout) -> bool:
    """Whether the rod reaches beyond the neck's wood at the heel, so that the wood's end is sawn before the rod is
    tried."""
    return layout.rod is not None and layout.rod.x_end > layout.heel.x_end + SAME


def rest_again(layout: Layout) -> Work:
    """Resting, and the last truing of the glue plane, which makes the channel shallower by what it takes off."""
    if layout.in_one:
        return rest_in_one(layout)
    say, plane = words_of(layout), layout.design.workshop.tolerances.glue_plane
    says = [
        "Let the blank rest again for some days, free on all sides: wood moves when so much of it is cut away. Then "
        f"hold a straightedge to the glue plane. Where it is off by more than {say(plane)}, plane it true, and take "
        "off as little as will do.",
    ]
    checks = [f"under a straightedge the glue plane is flat within {say(plane)}"]
    if layout.back_strip is not None:
        says.append(
            "Whatever comes off thins the wood over the channel, and makes the heel less deep: take off as little as "
            "will do."
        )
    elif layout.steps:
        says.append(
            "Whatever comes off makes the channel shallower and the heel less deep. Measure both again, write what you "
            "find under [measured], and run the checks once more."
        )
    if layout.rod is not None and layout.rod.curve is None and layout.back_strip is None:
        runs = zip(layout.of_kind(StepName.RUN), layout.rods, strict=True)
        deep = say(max(run.depth - rod.below for run, rod in runs))
        still = f"the run is still {deep} deep or more, so that the rod does not stand above the glue plane"
        if layout.paired:
            still = f"each run is still {deep} deep or more, so that no rod stands above the glue plane"
        checks.append(still)
    return Work("Let it rest, and true the glue plane", tuple(says), (cautions.DUST,), checks=tuple(checks))
