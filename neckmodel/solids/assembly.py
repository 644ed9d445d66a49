"""The one way from a layout to its parts."""

from __future__ import annotations

import math
from dataclasses import replace

from neckmodel.geometry.paths import polygon
from neckmodel.layout import Layout
from neckmodel.layout.channel.step import EndKind
from neckmodel.solids.channel import NEAR, back_strip_region, holes, peg_holes, routed, tools
from neckmodel.solids.colours import colour_of
from neckmodel.solids.fretboard import fretboard_solid
from neckmodel.solids.hand import left_handed
from neckmodel.solids.hardware.hardware import hardware_parts
from neckmodel.solids.kernel.gate import cut, fuse
from neckmodel.solids.kernel.shapes import sideways, upright
from neckmodel.solids.kernel.subtraction import take
from neckmodel.solids.neck.cap import cap_part
from neckmodel.solids.neck.neck import carved_neck
from neckmodel.solids.neck.parting import part
from neckmodel.solids.neck.wings import body_wing_parts
from neckmodel.solids.parts import NUT_END, Opening, Part, Parts, Tool

# isort: split
import cadquery as cq


def build(layout: Layout) -> Parts:
    """Every solid of one design: board, blank, carved neck, fretboard and envelopes of the hardware; mirrored for a
    left-handed design.

    Raises KernelError, naming the operation, where the kernel fails or gives an implausible solid.
    """
    cutters, drilled, regions = tools(layout), holes(layout), glued_regions(layout)
    bored = peg_holes(layout)
    carved = grooved(layout, carved_neck(layout))
    from_blank = [*(routed(layout) if layout.back_strip is not None else taken_by(cutters)), *taken_by(drilled)]
    taken = [*taken_by(cutters), *taken_by(drilled)]
    half = layout.blank_half_width
    sawn = sideways(layout.blank_profile, -half, half, "blank")
    parts, board = [], fretboard_solid(layout.fretboard)
    if layout.board is not None:
        parts.append(Part("board", board_solid(layout, layout.board), colour_of("board"), "stock"))
    parts += [
        Part("blank", take(sawn, from_blank, "cutting the blank"), colour_of("blank"), "stock"),
        *neck_and_fretboard(
            layout,
            wood_parts(take(carved, [*taken, *(tool.solid for tool in bored)], "cutting the neck"), regions),
            board,
        ),
        *strip_part(layout),
        *cap_part(layout, carved),
        *body_wing_parts(layout),
        *hardware_parts(layout),
    ]
    built = Parts(layout, tuple(parts), carved, cutters, openings(layout), (*drilled, *bored), regions)
    built = replace(built, fretboard=board) if layout.in_one else built
    return left_handed(built) if layout.left_handed else built


def neck_and_fretboard(layout: Layout, wood: tuple[Part, ...], board: cq.Solid) -> tuple[Part, ...]:
    """The neck, what is glued to it, and the fretboard; or the neck with the fretboard in one piece."""
    if not layout.in_one:
        return (*wood, Part("fretboard", board, colour_of("fretboard"), "wood"))
    neck, *rest = wood
    whole = fuse(neck.solid, [board], "neck and fretboard in one piece")
    return (replace(neck, solid=whole), *rest)


def grooved(layout: Layout, neck: cq.Solid) -> cq.Solid:
    """The neck with the groove for its nut, as wide as the neck and as thick as the nut; unchanged for a nut on a
    ledge."""
    nut = layout.nut
    if nut.z_seat == 0:
        return neck
    half = layout.blank_half_width + PAST
    across = [(nut.x_start, -half), (nut.x_end, -half), (nut.x_end, half), (nut.x_start, half)]
    plan = polygon([(x + nut.slope * y, y) for x, y in across])
    return cut(neck, [upright(plan, nut.z_seat, PAST, "nut groove")], "cutting the nut's groove")


def strip_part(layout: Layout) -> tuple[Part, ...]:
    """The fretboard wood behind a nut in a groove; () for a nut on a ledge."""
    strip = layout.nut_strip
    return () if strip is None else (Part("nut-strip", fretboard_solid(strip), colour_of("nut-strip"), "wood"),)


def glued_regions(layout: Layout) -> tuple[Tool, ...]:
    """The region of each part that is glued to the neck."""
    glued = (Tool(p.name, sideways(p.profile, p.y_from, p.y_to, f"region of {p.name}")) for p in layout.pieces)
    return (*back_strip_region(layout), *glued)


def taken_by(cutters: tuple[Tool, ...]) -> tuple[cq.Solid, ...]:
    """The solids of tools."""
    return tuple(tool.solid for tool in cutters)


def wood_parts(whole: cq.Solid, regions: tuple[Tool, ...]) -> tuple[Part, ...]:
    """The neck and the parts glued to it, divided along the seams."""
    glued, rest = [], whole
    for region in regions:
        piece, rest = part(rest, region.solid, region.step)
        glued.append(Part(region.step, piece, colour_of(region.step), "wood"))
    return (Part("neck", rest, colour_of("neck"), "wood"), *sorted(glued, key=lambda part: part.name))


PAST = 1.0  # mm by which a groove's cutting solid reaches past the wood


def board_solid(layout: Layout, board: tuple[float, float, float]) -> cq.Solid:
    """The board as bought, its upper face on the blank's, the blank in its middle. board: its length, width and
    thickness, mm."""
    length, width, thickness = board
    xs, top = [x for x, _ in layout.blank_profile], max(z for _, z in layout.blank_profile)
    middle = (min(xs) + max(xs)) / 2
    x0, x1, low = middle - length / 2, middle + length / 2, top - thickness
    return sideways([(x0, top), (x1, top), (x1, low), (x0, low)], -width / 2, width / 2, "board")


def openings(layout: Layout) -> tuple[Opening, ...]:
    """The plane faces through which cutters enter: the glue plane, the head's face, the step between them, the groove
    of a nut, and the wood's ends where a channel runs out there."""
    head, heel = layout.head, layout.heel
    turn = math.radians(head.angle)
    face = (head.x_line, 0.0, head.face(head.x_line))
    found = [Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), head.x_top, heel.x_end)]
    if not head.is_none:
        found.append(Opening("head face", face, (-math.sin(turn), 0.0, math.cos(turn)), head.x_far, head.x_line))
    elif out := [s.depth_start for s in layout.steps if s.end_start == EndKind.OPEN and s.x_start <= head.x_far + NEAR]:
        found.append(Opening(NUT_END, (head.x_far, 0.0, -max(out) / 2), (-1.0, 0.0, 0.0), head.x_far, head.x_far))
    if head.drop > 0:
        step = (head.x_line, 0.0, -head.drop / 2)
        found.append(Opening("step", step, (-1.0, 0.0, 0.0), head.x_line, head.x_line))
    through = [s.depth_end for s in layout.steps if s.end_end == EndKind.OPEN and s.x_end >= heel.x_end - NEAR]
    if through:  # a rod whose adjuster lies at the heel
        found.append(Opening("end", (heel.x_end, 0.0, -max(through) / 2), (1.0, 0.0, 0.0), heel.x_end, heel.x_end))
    return (*found, *_groove(layout))


def _groove(layout: Layout) -> tuple[Opening, ...]:
    """Floor and both walls of the groove that holds a nut."""
    nut = layout.nut
    if nut.z_seat == 0:
        return ()
    run = math.hypot(1.0, nut.slope)
    square = (1.0 / run, -nut.slope / run, 0.0)
    xs = [
        x + nut.slope * y for x in (nut.x_start, nut.x_end) for y in (-layout.blank_half_width, layout.blank_half_width)
    ]
    walls = ((nut.x_start, square), (nut.x_end, (-square[0], -square[1], 0.0)))
    return (
        Opening("nut groove", ((nut.x_start + nut.x_end) / 2, 0.0, nut.z_seat), (0.0, 0.0, 1.0), min(xs), max(xs)),
        *(Opening("nut groove's wall", (x, 0.0, nut.z_seat / 2), normal, min(xs), max(xs)) for x, normal in walls),
    )
