"""Head and heel as the design states them, fitted to the shaft."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design import HeadOutline, HeelWidth
from neckmodel.design.defaults.instruments import GLUED_IN
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.head.head import Head
from neckmodel.layout.head.outline import head_contour
from neckmodel.layout.head.volute import Volute
from neckmodel.layout.heel.cap import HeelCap
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.heel.heel import Heel
from neckmodel.layout.heel.tenon import Tenon
from neckmodel.layout.neck.back import Back
from neckmodel.layout.neck.outside import Outside

if TYPE_CHECKING:
    from neckmodel.design import Design, NutEnd
    from neckmodel.design import Tenon as StatedTenon

TENON_SLACK = 0.05  # mm by which a stated end of the wood may differ from the joint and the tenon's length


def place_outside(design: Design, board: Fretboard, back: Back, x_joint: float) -> Outside:
    """Head, shaft and heel. `refuse_outside` decides later whether they fit each other."""
    behind = design.rod is not None and design.channel.from_behind
    return Outside(back, place_head(design), place_heel(design, board, back, x_joint), behind)


def place_head(design: Design) -> Head:
    """The head. With a drawing its length is the drawn one, and `near` the narrower side's width at the swell's end."""
    head = design.head
    if head.kind == "none" and head.end is not None:
        return _nut_end(head.end, head.swell_length)
    stepped = head.kind == "stepped"
    angle, drop = (0.0, head.drop) if stepped else (head.angle, 0.0)
    volute = None if head.volute is None else Volute(head.starts_at, head.volute.length, head.volute.height)
    if isinstance(head.outline, HeadOutline):
        contour, length, near, far = None, head.length, head.outline.near, head.outline.far
    else:
        contour, length, near = head_contour(design, head.outline, angle)
        far = 2 * max(abs(y) for y in contour.y_range)
    return Head(
        kind=head.kind,
        x_line=head.starts_at,
        angle=angle,
        drop=drop,
        thickness=head.thickness,
        length=length,
        near=near,
        far=far,
        swell=head.swell_length,
        contour=contour,
        volute=volute,
    )


def _nut_end(end: NutEnd, swell: float) -> Head:
    """The nut end of a neck without a head: square all round, its top the glue plane, the shaft flowing into it from
    x = 0 on."""
    return Head(
        kind="none",
        x_line=0.0,
        angle=0.0,
        drop=0.0,
        thickness=end.thickness,
        length=end.length,
        near=end.width,
        far=end.width,
        swell=swell,
    )


def place_heel(design: Design, board: Fretboard, back: Back, x_joint: float) -> Heel:
    """The heel. A through heel without a stated width is as wide as the fretboard's end. With a tenon the wood ends at
    the tenon's end."""
    heel = design.heel
    x_end = heel.wood_ends_at if heel.wood_ends_at is not None else board.x_last
    top, bottom = (heel.width.joint, heel.width.cap) if isinstance(heel.width, HeelWidth) else (heel.width, None)
    half = None if top is None else top / 2
    if half is None and heel.kind == "through":  # its sides are parallel
        half = board.half_width(board.x_end)
    tenon = None
    if heel.kind in GLUED_IN and heel.tenon is not None:
        by_length = x_joint + heel.tenon.length
        if heel.wood_ends_at is None:
            x_end = by_length
        elif abs(by_length - x_end) > TENON_SLACK:
            raise design.problem(
                "heel.wood_ends_at",
                f"is not where a {heel.kind} {heel.tenon.length:.2f} mm long from the joint ends",
                f"{by_length:.2f} mm, or leave it out",
                f"or heel.tenon.length = {x_end - x_joint:.2f} mm" if x_end > x_joint else "",
            )
        tenon = _tenon(heel.tenon, x_joint, x_end)
        half = back.half_width(x_joint) if half is None else half
    corner = 0.0 if tenon is not None else heel.corner_radius
    return Heel(
        kind=heel.kind,
        x_joint=x_joint,
        x_end=x_end,
        half_width=half,
        depth=heel.depth,
        corner_radius=corner,
        swell_from=heel.swell_from,
        pocket_depth=heel.neck_pocket_depth,
        plate=heel.plate,
        tenon=tenon,
        half_bottom=None if bottom is None else bottom / 2,
        cap=None if heel.cap is None else HeelCap(heel.cap.thickness, heel.cap.wood),
    )


def _tenon(stated: StatedTenon, x_joint: float, x_end: float) -> Tenon:
    """The tenon, or the dovetail where flare and taper are given."""
    if stated.flare is None or stated.taper is None:
        return Tenon(stated.width / 2, stated.depth)
    return Dovetail(stated.width / 2, stated.depth, x_joint, x_end, stated.flare, stated.taper)
