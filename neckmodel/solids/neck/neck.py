"""The carved neck: the layout's outside in the form that the carving takes, and the stock that is carved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import polygon
from neckmodel.layout import Layout
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.heel.heel import Heel
from neckmodel.layout.heel.tenon import Tenon
from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.wood.blank import side_profile
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import common, cut, fuse, gate, probe, solid_bytes
from neckmodel.solids.kernel.shapes import polygon_face, sewn, sideways, swept, upright
from neckmodel.solids.neck.carving import Room, carve, waste
from neckmodel.solids.neck.outline import head_path, heel_path
from neckmodel.solids.neck.skin import Array, BackLaw, Law, SlabEnd

# isort: split
import cadquery as cq

SPARE = 4.0  # mm of stock round the neck that the carving takes away; the kernel fails where there is hardly any
PARTED = (
    None,
    0.4,
    0.7,
)  # tried in turn: the stock whole, or divided at this share of the shaft and joined again; sometimes
# the kernel removes nothing and reports no error
BESIDE = 0.5  # mm from the finished back: so far inside must be wood, so far outside must be none
ALONG = 7  # places along the shaft at which both are tested
BELOW_BOX = 0.1  # mm by which they go at least below the box that the carve heads for
SLAB_SPARE = 2.0  # mm that the upright walls of head and heel go below the wood


def _law(function: Callable[[float], float]) -> Law:
    def law(x: Array) -> Array:
        return np.array([function(float(v)) for v in x])

    return law


def _breaks(outside: Outside) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """(x at which a law changes its formula, those of them that are real corners of the plan)."""
    head, heel, back = outside.head, outside.heel, outside.back
    cove = outside.x_cove
    breaks = {head.x_swell, cove, head.x_line, outside.x_blend, 0.0, heel.x_swell, heel.x_joint}
    if head.volute is not None:
        breaks |= {head.volute.x_start, head.volute.x_end}
    if back.p_1 != back.p_12 or back.apex_1 != back.apex_12:
        breaks |= {x for x in (back.x_1, back.x_12) if x < heel.x_joint}
    if back.later is not None:
        breaks |= {x for x in (back.later.x_from, back.later.x_to) if 0.0 <= x < heel.x_joint}
    inner = sorted(breaks)
    merged = [inner[0]]
    merged += [x for x in inner[1:] if x - merged[-1] > 1e-6]
    corners = tuple(x for x in (cove, head.x_line) if outside.head_tapers and head.x_swell < x < heel.x_joint)
    return tuple(merged), tuple(x for x in merged if x in corners)


def back_law(outside: Outside) -> BackLaw:
    """The finished outside below the glue plane in the form that the carving takes."""
    head, heel, back = outside.head, outside.heel, outside.back
    breaks, corners = _breaks(outside)
    head_box, heel_box = outside.box_bottom(head.x_swell), outside.box_bottom(heel.x_joint)
    fall = (outside.box_bottom(-1e-9)[0] - head_box[0]) / -head.x_swell
    return BackLaw(
        breaks=breaks,
        half_width=_law(outside.half_width),
        depth=_law(back.depth),
        exponent=_law(back.exponent),
        apex=_law(back.apex),
        middle=_law(outside.middle),
        head=SlabEnd(
            *head_box, -head.back(head.x_far) + SLAB_SPARE + head_box[1] - head_box[0], head_path(outside), fall
        ),
        heel=SlabEnd(
            *heel_box,
            max(heel.depth + SLAB_SPARE + heel_box[1] - heel_box[0], heel_box[1] + BELOW_BOX),
            heel_path(outside),
            narrows=None if heel.half_bottom is None else (heel.narrowing(heel.depth), heel.depth),
        ),
        head_blend=_law(lambda x: outside.weight(x) if x < 0 else 0.0),
        heel_blend=_law(lambda x: outside.weight(x) if x > 0 else 0.0),
        swelling=_law(outside.swelling),
        corners=corners,
    )


def carved_neck(layout: Layout) -> cq.Solid:
    """The neck as carved, before channel and holes are cut. Raises KernelError where the kernel fails to carve it."""
    return carved_outside(layout.outside, layout.design.allowance.back)


@remembered(solid_bytes)
def carved_outside(outside: Outside, allowance: float) -> cq.Solid:
    """The carved neck of this outside. allowance: wood that the saw leaves below the finished back, mm."""
    for share in PARTED:
        neck = _carved(outside, allowance, None if share is None else share * outside.heel.x_swell)
        if _is_carved(outside, neck):
            return neck
    raise KernelError("carving", "the neck is not what was to be left of its stock")


def _is_carved(outside: Outside, neck: cq.Solid) -> bool:
    """Whether the shaft has wood just inside its finished back and none just outside."""
    there = probe(neck)
    for x in np.linspace(0.5, outside.heel.x_swell - 0.5, ALONG).tolist():
        half, middle, deep = outside.half_width(x), outside.middle(x), outside.keel(x)
        apex, out = middle + outside.back.apex(x), half + BESIDE
        if there(x, middle + out, -BESIDE) or there(x, middle - out, -BESIDE) or there(x, apex, -deep - BESIDE):
            return False
        if not there(x, apex, BESIDE - deep):
            return False
    return True


def _carved(outside: Outside, allowance: float, parted_at: float | None) -> cq.Solid:
    """The carved neck. parted_at: x at which the stock is carved in two parts; None: in one."""
    law = back_law(outside)
    half = outside.widest + SPARE
    whole = replace(outside, heel=replace(outside.heel, tenon=None))  # the tenon's shoulders are one plane, cut at once
    profile = side_profile(whole, SPARE, max(SPARE, allowance))
    stock = sideways(profile, -half, half, "stock of the neck")
    xs, zs = [x for x, _ in profile], [z for _, z in profile]
    room = Room(
        min(xs) - SPARE, max(xs) + SPARE, half + SPARE, min(min(zs), -law.head.slab, -law.heel.slab) - 2 * SPARE
    )
    tenon = [] if outside.heel.tenon is None else [round_tenon(outside.heel, outside.heel.tenon, room)]
    if parted_at is None:
        return carve(stock, waste(law, room), tenon)
    away, wide, low = waste(law, room), room.half_width, room.bottom
    ends = ((room.x_from, parted_at), (parted_at, room.x_to))
    boxes = [sideways([(a, low), (b, low), (b, SPARE), (a, SPARE)], -wide, wide, "part of the stock") for a, b in ends]
    head, heel = (carve(common(stock, [part], "parting the stock"), away, tenon) for part in boxes)
    return fuse(head, [heel], "joining the carved parts")


def round_tenon(heel: Heel, tenon: Tenon, room: Room) -> cq.Solid:
    """The wood that is sawn away round a tenon: everything beyond the joint except the tenon."""
    if isinstance(tenon, Dovetail):
        return _round_dovetail(heel, tenon, room)
    half, wide, x = tenon.half_width, room.half_width + SPARE, heel.x_joint
    inner = [(-half, -tenon.depth), (half, -tenon.depth)]
    outer = [(wide, room.over + SPARE), (wide, room.bottom), (-wide, room.bottom), (-wide, room.over + SPARE)]
    ring = [(-half, room.over + SPARE), *inner, (half, room.over + SPARE), *outer]
    face = polygon_face([(x, y, z) for y, z in ring], "shoulders of the tenon")
    return gate(swept(face, (room.x_to + SPARE - x, 0.0, 0.0), "wood round the tenon"), "wood round the tenon")


def _round_dovetail(heel: Heel, tenon: Dovetail, room: Room) -> cq.Solid:
    """The same round a dovetail, its cheeks and its bottom going on past the wood on every side."""
    x_end, over, wide = room.x_to + SPARE, room.over + SPARE, room.half_width + SPARE
    name = "wood round the dovetail"
    ends = []
    for x in (heel.x_joint - SPARE, x_end + SPARE):
        top, bottom = tenon.half_at(x, -over), tenon.half_at(x, tenon.depth)
        ends.append([(x, -top, over), (x, top, over), (x, bottom, -tenon.depth), (x, -bottom, -tenon.depth)])
    near, far = ends
    sides = [[near[k], far[k], far[(k + 1) % 4], near[(k + 1) % 4]] for k in range(4)]
    dovetail = sewn([polygon_face(corners, name) for corners in (near, far, *sides)], name)
    corners = [(heel.x_joint, -wide), (x_end, -wide), (x_end, wide), (heel.x_joint, wide)]
    return cut(upright(polygon(corners), room.bottom, room.over, name), [dovetail], name)
