"""What must hold of neck, head, heel and body."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.defaults.instruments import GLUED_IN
from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, at_least, at_most, length, less_than, more_than, needs
from neckmodel.design.tables.head import HeadOutline, Tuner
from neckmodel.design.values.scale import fret_share

_LEAST_WOOD = 4.0  # mm of wood under the fretboard; less holds nothing


def at_fret(design: Design, n: float) -> float:
    """x of a fret on the centre line by equal temperament."""
    return design.strings.spans.centre * fret_share(n)


def _wood(design: Design, x: float) -> float:
    """Depth of the wood under the fretboard at x, mm: the straight line through the thickness at frets 1 and 12,
    less the fretboard."""
    thickness, x_1, x_12 = design.neck.thickness, at_fret(design, 1), at_fret(design, 12)
    slope = (thickness.fret_12 - thickness.fret_1) / (x_12 - x_1)
    return thickness.fret_1 + slope * (x - x_1) - design.fretboard.thickness


@needs("fretboard", "neck")
def joint_fret(design: Design) -> Iterator[Broken]:
    """The joint must lie at a fret that the fretboard has."""
    frets = design.fretboard.frets
    if design.neck.joint_fret > frets:
        yield Broken("neck.joint_fret", f"lies beyond the last of {frets} frets", f"allowed is at most {frets}")


@needs("strings", "fretboard", "neck")
def wood_under_fretboard(design: Design) -> Iterator[Broken]:
    """The neck must have at least 4 mm of wood under its fretboard, from the nut to fret 12 (common practice, no
    source)."""
    thickness = design.neck.thickness
    least = design.fretboard.thickness + _LEAST_WOOD
    for fret in ("fret_1", "fret_12"):
        if getattr(thickness, fret) <= least:
            wood = length(getattr(thickness, fret) - design.fretboard.thickness)
            says = f"leaves {wood} of wood under the fretboard"
            yield Broken(f"neck.thickness.{fret}", says, more_than(least))
    if thickness.fret_1 > least and _wood(design, 0.0) <= _LEAST_WOOD:
        wood = length(_wood(design, 0.0))
        yield Broken(
            "neck.thickness.fret_12", f"thins the neck to {wood} of wood at the nut", "", "bring it nearer to fret_1"
        )


@needs("nut", "head")
def head_line(design: Design) -> Iterator[Broken]:
    """The head must begin behind the nut."""
    if design.head.kind != "none" and design.head.starts_at > -design.nut.thickness:
        limit = at_most(-design.nut.thickness)
        yield Broken("head.starts_at", "lies under the nut", f"{limit}, the nut's far side")


@needs("head")
def tuners(design: Design) -> Iterator[Broken]:
    """Each tuner must lie on the head, and its string tree between it and the nut."""
    head = design.head
    for index, tuner in enumerate(head.tuners):
        if isinstance(head.outline, HeadOutline) and tuner.hole / 2 - tuner.x > head.length:
            yield Broken(f"head.tuners.{index}.x", f"lies beyond the head, {length(head.length)} long")
        if isinstance(tuner, Tuner) and tuner.tree is not None and tuner.tree.x <= tuner.x:
            says, at_nut_side = "does not lie between the nut and its tuner", f"allowed is more than {length(tuner.x)}"
            yield Broken(f"head.tuners.{index}.tree.x", says, at_nut_side)


@needs("strings", "fretboard", "neck", "heel")
def heel_wood(design: Design) -> Iterator[Broken]:
    """The heel must end between the joint and the bridge, swell no sooner than fret 1, and be as deep as the neck. A
    tenon must be stated, and end where the wood ends."""
    heel = design.heel
    joint, bridge = at_fret(design, design.neck.joint_fret), design.strings.spans.centre
    if design.neck.joint_fret > design.fretboard.frets:
        return  # another rule reports it, and the joint has no place
    if heel.wood_ends_at is not None and heel.wood_ends_at <= joint:
        yield Broken("heel.wood_ends_at", "lies before the joint", more_than(joint))
    if heel.wood_ends_at is not None and heel.kind != "through" and heel.wood_ends_at > bridge:
        yield Broken("heel.wood_ends_at", "lies beyond the bridge", at_most(bridge))
    room = joint - at_fret(design, 1)
    if heel.swell_from >= room:
        yield Broken("heel.swell_from", "reaches to fret 1", less_than(room))
    if heel.kind in GLUED_IN and heel.tenon is None:
        yield Broken("heel.tenon", "is missing", f"a heel with a {heel.kind} needs {{length, width, depth}}")
    if heel.depth < _wood(design, joint) and design.measured is None:  # once cut, `layout` reports it
        least = at_least(_wood(design, joint))
        yield Broken("heel.depth", "is less than the wood of the neck at the joint", least)


@needs("body", "heel")
def body(design: Design) -> Iterator[Broken]:
    """The body must be thicker than the neck's pocket and than the wood under it. A cut-out must end beyond its
    beginning."""
    if design.body.under_pocket > design.body.thickness:
        yield Broken("body.under_pocket", "is more than the body is thick", at_most(design.body.thickness))
    if design.heel.neck_pocket_depth > design.body.thickness:
        yield Broken("heel.neck_pocket_depth", "is more than the body is thick", at_most(design.body.thickness))
    for index, cutout in enumerate(design.body.cutouts):
        if cutout.to <= cutout.from_:
            yield Broken(f"body.cutouts.{index}.to", "does not lie beyond from", more_than(cutout.from_))
