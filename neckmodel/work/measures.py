"""What is measured after each operation: the planned value, and bounds from the workshop's tolerances. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel.seat import boxes_in, deepest
from neckmodel.layout.channel.step import StepName
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.rod.bars import BAR_FIT
from neckmodel.layout.workshop.router import leaves_at_heel, leaves_wood

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

CHECKED_FRETS = (1, 12)
MOST_BAR_FIT = 0.20  # mm in all for the glue round a bar; common practice (0.10 to 0.20), no source


@dataclass(frozen=True)
class Measure:
    """One size to measure. says: which. key: dotted key in `[measured]`, "" where it has none. A bound of None: no
    bound on that side."""

    says: str
    key: str
    nominal: float
    low: float | None
    high: float | None


def measures(layout: Layout) -> tuple[tuple[str, tuple[Measure, ...]], ...]:
    """(operation, sizes to measure after it), in the order of work."""
    groups = (
        ("After truing the blank", _blank(layout)),
        ("After routing", tuple(row for step in layout.steps for row in step_measures(layout, step))),
        ("After sawing the side profile", _profile(layout)),
        (f"After cutting the {layout.heel.tenon.name if layout.heel.tenon else 'tenon'}", _tenon(layout)),
        ("After boring and slotting the head", _slotted(layout)),
        ("After drilling", _holes(layout)),
        ("The fretboard's face" if layout.in_one else "The fretboard, before it is glued", _fretboard(layout)),
        ("After tapering and carving", _carved(layout)),
        ("After boring the body", _bored(layout)),
        ("After gluing on the heel's cap", _capped(layout)),
    )
    return tuple((name, rows) for name, rows in groups if rows)


def _around(says: str, key: str, nominal: float, tolerance: float) -> Measure:
    return Measure(says, key, nominal, nominal - tolerance, nominal + tolerance)


def _blank(layout: Layout) -> tuple[Measure, ...]:
    allowed, half = layout.design.workshop.tolerances, layout.blank_half_width
    rows = []
    if layout.board is not None:
        rough = layout.design.board is not None and layout.design.board.surface == "rough"
        for name, size in zip(("length", "width", "thickness"), layout.board, strict=True):
            key = "" if rough else f"board.{name}"  # the measured board is the board as bought
            rows.append(Measure(f"board, trued: {name}, at least", key, size, size - allowed.stock, None))
    rows += [
        Measure("blank: width, at least", "", 2 * half, 2 * half - allowed.stock, None),
        _around("centre line from the reference edge", "", half, allowed.measuring),
    ]
    for piece in layout.pieces:
        for name, size in zip(("length", "width", "thickness"), piece.stock, strict=True):
            rows.append(Measure(f"{piece.name}: {name}, at least", "", size, size - allowed.stock, None))
    return tuple(rows)


def _profile(layout: Layout) -> tuple[Measure, ...]:
    off, heel, head = layout.design.workshop.tolerances.stock, layout.heel, layout.head
    rows = [
        _around("heel: depth below the glue plane", "heel.depth", heel.depth, off),
        *(
            [
                _around("nut end: thickness below the glue plane", "head.end.thickness", head.thickness, off),
                _around("nut end: width", "head.end.width", head.near, off),
                _around("nut end: length from the nut", "head.end.length", head.length, off),
            ]
            if head.is_none
            else [_around("head: thickness, square to its face", "head.thickness", head.thickness, off)]
        ),
    ]
    if head.angle == 0 and not head.is_none:
        rows.append(_around("head: step below the glue plane", "head.drop", head.drop, off))
    return tuple(rows)


def _tenon(layout: Layout) -> tuple[Measure, ...]:
    off, tenon = layout.design.workshop.tolerances.stock, layout.heel.tenon
    if tenon is None:
        return ()
    if isinstance(tenon, Dovetail):
        x0, x1, deep = tenon.x_root, tenon.x_end, tenon.depth
        shoulder, _ = layout.heel.shoulder()
        return (
            _around("dovetail: depth below the glue plane", "heel.tenon.depth", deep, off),
            _around("dovetail: width of its end at the glue plane", "heel.tenon.width", 2 * tenon.half_width, off),
            _around("dovetail: width of its end at the bottom", "", 2 * tenon.half_at(x1, deep), off),
            _around("dovetail: width at the joint at the glue plane", "", 2 * tenon.half_at(x0), off),
            _around("dovetail: width at the joint at the bottom", "", 2 * tenon.half_at(x0, deep), off),
            Measure("shoulder beside the dovetail, at least", "", shoulder, shoulder - off, None),
        )
    return (
        _around("tenon: depth below the glue plane", "heel.tenon.depth", tenon.depth, off),
        _around("tenon: width", "heel.tenon.width", 2 * tenon.half_width, off),
    )


def _slotted(layout: Layout) -> tuple[Measure, ...]:
    pair, off = layout.slots, layout.design.workshop.tolerances.sideways
    if pair is None:
        return ()
    rows = []
    for k, one in enumerate(layout.rollers):
        key = f"head.tuners.{k}"
        rows.append(_around(f"{one.name}: axis below the face", f"{key}.below_face", one.below, off))
        rows.append(_around(f"{one.name}: axis from the head line, along the face", "", -one.along, off))
    rows.append(_around("slots: width of each", "head.slots.width", pair.width, off))
    rows.append(_around("slots: wood between them", "", pair.core, off))
    return tuple(rows)


def _capped(layout: Layout) -> tuple[Measure, ...]:
    place, off = layout.heel_cap, layout.design.workshop.tolerances.stock
    if place is None:
        return ()
    deep = layout.heel.depth + place.cap.thickness
    return (_around("heel: depth below the glue plane, its cap included", "", deep, off),)


def step_measures(layout: Layout, step: Step) -> tuple[Measure, ...]:
    """The sizes to measure on one step of the channel."""
    allowed, channel = layout.design.workshop.tolerances, layout.design.channel
    key = f"channel.{step.name}"
    low, high = step.width - allowed.sideways, step.width + allowed.sideways
    if (
        step.kind == StepName.RUN and layout.rod is not None
    ):  # from the rod's own width to that width with the play that the check allows
        own = step.width - channel.wider_by
        low, high = own, own + layout.design.limits.fit_run
    elif bar := next((bar for bar in layout.bars if bar.name == step.name), None):  # glue needs room, but no gap
        low, high = bar.width + BAR_FIT, bar.width + MOST_BAR_FIT
    elif step.narrowest is not None:
        low = max(low, step.narrowest)
    # half of the room at the rod's end; where it has none, the workshop's sideways tolerance
    along = channel.end_clearance / 2 or allowed.sideways
    deep, from_back = step.from_face.depth, ", from the level back" if step.behind else ""
    if step.bored:
        return (_around(f"{step.name}: width", f"{key}.width", step.width, allowed.sideways),)
    rows = [
        Measure(f"{step.name}: width", f"{key}.width", step.width, low, high),
        Measure(
            f"{step.name}: depth, at the deepest{from_back}",
            f"{key}.depth",
            deep,
            max(deep - allowed.depth, _least_depth(layout, step)),
            deep + allowed.depth,
        ),
    ]
    if not leaves_wood(layout, step):
        rows.append(_around(f"{step.name}: starts at x", f"{key}.x_start", step.x_start, along))
    if not leaves_at_heel(layout, step):
        rows.append(_around(f"{step.name}: ends at x", f"{key}.x_end", step.x_end, along))
    for name, depth in _floor(step.from_face):
        rows.append(_around(f"{step.name}: depth {name}", "", depth, allowed.depth))
    return tuple(rows)


def _least_depth(layout: Layout, step: Step) -> float:
    """The least depth of a step with which the part in it does not stand above the glue plane, mm; 0 for a step that
    nothing rests on, or one already cut too shallow, which the checks report."""
    rod = layout.rod_of(step)
    if step.behind:  # in a floor too shallow the rod lies lower, and the strip is fitted to it
        return 0.0
    if bar := next((bar for bar in layout.bars if bar.name == step.name), None):
        least = step.depth - bar.below
    elif rod is not None and rod.curve is None and (boxes := boxes_in(rod, step, layout.steps)):
        least = deepest(boxes)
    else:
        return 0.0
    return least if least <= step.depth else 0.0


def _floor(step: Step) -> list[tuple[str, float]]:
    """(where, depth) at which to measure a floor that is not level."""
    if step.is_level:
        return []
    middle = [] if step.depth_middle is None else [("half way", step.depth_middle)]
    return [("at its start", step.depth_start), *middle, ("at its end", step.depth_end)]


def _holes(layout: Layout) -> tuple[Measure, ...]:
    allowed = layout.design.workshop.tolerances
    rows = [_around(f"{screw.name}: x", "", screw.x, allowed.sideways) for screw in layout.screws]
    deep = [(screw.name, screw.z_point - screw.z_bottom) for screw in layout.screws]
    rows += [
        Measure(f"{name}: depth of the hole, at most", "", depth, None, depth + allowed.depth) for name, depth in deep
    ]
    return tuple(rows)


def _fretboard(layout: Layout) -> tuple[Measure, ...]:
    allowed, board = layout.design.workshop.tolerances, layout.fretboard
    rows = [
        _around("fretboard: thickness at the centre", "fretboard.thickness", board.thickness, allowed.stock),
        _around("fretboard: width at the nut", "", 2 * board.half_width(0.0), allowed.sideways),
        _around("fretboard: width at its end", "", 2 * board.half_width(board.x_end), allowed.sideways),
    ]
    if not layout.sawn:
        return tuple(rows)
    rows.append(_around("fret slots: depth", "fretboard.fret_slot.depth", board.slot_depth, allowed.depth))
    name = "line" if layout.fretless else "fret"
    frets = [fret for fret in layout.frets.frets if fret.number in (*CHECKED_FRETS, len(layout.frets.frets))]
    rows += [_around(f"{name} {fret.number}: x on the centre line", "", fret.x, allowed.measuring) for fret in frets]
    return tuple(rows)


def _carved(layout: Layout) -> tuple[Measure, ...]:
    allowed, back = layout.design.workshop.tolerances, layout.back
    rows = [
        _around("neck: thickness at fret 1, fretboard included", "neck.thickness.fret_1", back.t_1, allowed.carve),
        _around("neck: thickness at fret 12, fretboard included", "neck.thickness.fret_12", back.t_12, allowed.carve),
        _around("neck: width at the nut", "", 2 * back.half_width(0.0), allowed.sideways),
        *_peg(layout),
        _around("nut: thickness", "nut.thickness", layout.design.nut.thickness, allowed.measuring),
    ]
    return tuple(rows)


def _peg(layout: Layout) -> list[Measure]:
    """The step of the bass side, and the hole of a later string's peg."""
    later, peg, allowed = layout.fretboard.later, layout.peg, layout.design.workshop.tolerances
    if later is None:
        return []
    wide = 2 * layout.back.half_width(later.x_from)
    rows = [_around("neck: width where the bass side's step starts", "", wide, allowed.sideways)]
    if peg is not None:
        rows.append(Measure("peg: depth of its hole, at most", "", peg.depth, None, peg.depth + allowed.depth))
    return rows


def _bored(layout: Layout) -> tuple[Measure, ...]:
    """The key's way from the soundhole: where its bore lies, and the wood that braces keep."""
    way, allowed = layout.soundhole_way, layout.design.workshop.tolerances
    if way is None:
        return ()
    off, limit = allowed.depth + allowed.measuring, layout.design.limits.access_brace
    rows = []
    for bore in way.bores:
        down = way.top.over(bore.x_start) + bore.axis(bore.x_start)
        says = f"bore for the {bore.what}: its middle under the top's upper side, where it starts"
        rows.append(_around(says, "", down, off))
        rows.append(Measure(f"bore for the {bore.what}: diameter, at least", "", bore.diameter, bore.diameter, None))
    for hole in way.braces:
        if hole.over is not None and hole.under is not None:
            name = hole.name.replace("-", " ")
            least = min(limit, hole.under.value)
            rows.append(Measure(f"{name}: wood under the bore, at least", "", hole.under.value, least, None))
    rows.append(Measure("key: length, at least", "", way.length, way.least, None))
    return tuple(rows)
