"""Named places on a jig: what its openings, holes and edges are for. Nothing here loads the CAD kernel."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.lengths import with_unit
from neckmodel.limits import CORK
from neckmodel.sheets.jigs.sides import ACROSS, ALONG, UPWARD

if TYPE_CHECKING:
    from neckmodel.geometry.types import Point, Point3
    from neckmodel.jigs.types import Bare
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class Place:
    """at: in the neck's frame, as on the finished jig, mm. ways: the directions (ALONG, ACROSS, UPWARD) in which it is
    a size. at_hole: it is the middle of a hole or window, and no size where there is none. datum: sizes count from
    here."""

    at: Point3
    says: str
    ways: tuple[int, ...] = (ALONG,)
    at_hole: bool = False
    datum: bool = False


def places(layout: Layout, kind: str, piece: Bare, between: Point) -> tuple[Place, ...]:
    """The named places on a piece, and on those beside it, for a view shows what lies on the piece. between: x of its
    ends, mm."""
    makers: dict[str, Callable[[Layout, Bare, Point], list[Place]]] = {
        "routing-template": _template,
        "trial-block": _trial,
        "contour-gauge": _gauge,
        "caul": _caul,
        "cradle": _cradle,
        "tuner-guide": _tuners,
        "screw-guide": _screws,
        "bore-guide": _bores,
        "dovetail-template": _dovetail,
        "slot-template": _slots,
        "roller-guide": _rollers,
    }
    return tuple(makers[kind](layout, piece, between)) if kind in makers else ()


def _on_line(x: float, says: str) -> Place:
    return Place((x, 0.0, 0.0), says)


def _template(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    from neckmodel.jigs.kinds.routing.opening import peg_places, peg_sides, templates

    if piece.name.startswith("stop-"):
        return [Place((0.0, y, 0.0), "peg", (ACROSS,), at_hole=True) for y in peg_sides(templates(layout)[0])]
    if "-rail" in piece.name or piece.name.endswith("-carriage"):
        return _sled(layout, piece)
    plan = next((t for t in templates(layout) if piece.name == t.name or piece.name.startswith(f"{t.name}-")), None)
    if plan is None:
        return []
    found = [
        _on_line(plan.opening.x_start, "opening"),
        _on_line(plan.opening.x_end, "opening"),
        _on_line(plan.stops[0], "stop face"),
        _on_line(plan.stops[1], "stop face"),
    ]
    found.append(Place((0.0, 0.0, 0.0), "glue plane", (UPWARD,)))
    found += [Place((x, 0.0, 0.0), f"window, {plain(name)}", at_hole=True) for name, x in plan.windows]
    found += [Place((x, layout.across(y), 0.0), "pin", at_hole=True) for x, y in plan.pins]
    found += [Place((x, 0.0, 0.0), "pegs", at_hole=True) for x in peg_places(plan)]
    return found


def _sled(layout: Layout, piece: Bare) -> list[Place]:
    """A rail's stops and the stations cut into it; a carriage's place over the cutter."""
    from neckmodel.jigs.kinds.routing.rails import sleds

    plan = next(plan for plan in sleds(layout) if piece.name.startswith(plan.name))
    if piece.name.endswith("-carriage"):
        return []
    out = plan.half_length
    found = [_on_line(plan.first.at_height(-out, plan.rail_height), "stop face")]
    found.append(_on_line(plan.last.at_height(out, plan.rail_height), "stop face"))
    return [*found, *(_on_line(x, f"mark, {plain(name)}") for name, x in plan.marks)]


def _trial(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001 (every kind is asked this way)
    from neckmodel.jigs.kinds.trial import middle_steps

    (x0, x1), steps = between, middle_steps(layout)
    ends = [(step, x, word) for step in steps for x, word in ((step.x_start, "starts"), (step.x_end, "ends"))]
    found = [_on_line(x, f"{plain(step.name)} {word}") for step, x, word in ends]
    end = (layout.head.x_top, "neck's end" if layout.head.is_none else "head line")
    found += [_on_line(*end), _on_line(0.0, "nut")]
    floors = [step for step in steps if step.is_level and step.x_start < x1 and step.x_end > x0]
    found += [Place((0.0, 0.0, -step.depth), f"{plain(step.name)} floor", (UPWARD,)) for step in floors]
    return [*found, Place((0.0, 0.0, 0.0), "glue plane", (UPWARD,))]


def _gauge(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    fret = next(f for f in layout.frets.frets if piece.name == f"fret-{f.number}")
    section = layout.back.section(fret.x)
    deepest = (fret.x, layout.across(section.middle + section.apex), -section.depth)
    ys = [layout.across(section.middle) + side * section.half_width for side in (-1.0, 1.0)]
    edges = [Place((fret.x, y, 0.0), "back's edge", (ACROSS,)) for y in ys]
    return [
        *edges,
        Place(deepest, "deepest line", (ACROSS, UPWARD)),
        Place((0.0, 0.0, 0.0), "tips, glue plane", (UPWARD,), datum=True),
    ]


def _caul(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    standing = () if layout.fretless else layout.fretted
    found = [_on_line(f.x, f"fret {f.number}" if f.number else "zero fret") for f in standing]
    return [*found, Place((0.0, 0.0, layout.fretboard.thickness), "face's middle", (UPWARD,))]


def _slots(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    from neckmodel.jigs.kinds.slots import plan_of

    plan, head = plan_of(layout), layout.head
    found = [Place((head.x_line, 0.0, -head.drop), "head line")]
    for along, word in ((plan.pair.near + plan.larger, "near"), (plan.pair.far - plan.larger, "far")):
        x, z = head.on_face(along)
        found.append(Place((x, 0.0, z), f"openings' {word} end"))
    for sign in (-1.0, 1.0):
        for y, word in ((plan.pair.inner - plan.larger, "inner"), (plan.pair.outer + plan.larger, "outer")):
            found.append(Place((head.x_line, sign * y, -head.drop), f"opening's {word} wall", (ACROSS,)))
    return found


def _rollers(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    head, found = layout.head, [Place((layout.head.x_line, 0.0, -layout.head.drop), "head line")]
    for one in layout.rollers:
        if str(one.side) == piece.name:
            x, z = head.on_face(one.along)
            found.append(Place((x, layout.across(one.y), z), plain(one.name)))
    return found


def _cradle(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    from neckmodel.jigs.kinds.cradle import LONG
    from neckmodel.jigs.kinds.cradle import places as saddles

    saddle = next(s for s in saddles(layout) if f"{s.number}" == piece.name)
    deepest = max(layout.back.depth(saddle.x + side * LONG / 2) for side in (-1, 0, 1))
    return [Place((saddle.x, 0.0, -deepest - CORK), "cork's room, bottom", (UPWARD,))]


def _tuners(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    found = []
    for tuner in layout.tuners:
        x, y, z = tuner.on_face
        found.append(Place((x, layout.across(y), z), plain(tuner.name), at_hole=True))
    head = layout.head
    return [*found, Place((head.x_line, 0.0, -head.drop), "head line")]


def _screws(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    return [Place((s.x, layout.across(s.y), 0.0), plain(s.name), at_hole=True) for s in layout.screws]


def _bores(layout: Layout, piece: Bare, between: Point) -> list[Place]:
    way, found = (
        layout.soundhole_way,
        [_on_line(layout.heel.x_joint, "joint"), _on_line(layout.heel.x_end, "wood ends")],
    )
    for bore in () if way is None else way.bores:
        if bore.what == piece.name:
            for rod in layout.rods:
                middle = (between[0], layout.across(rod.y), -bore.axis(between[0]))
                found.append(Place(middle, f"{bore.what}'s bore, middle", (UPWARD,), at_hole=False))
    return [*found, Place((0.0, 0.0, 0.0), "glue plane", (UPWARD,))]


def _dovetail(layout: Layout, piece: Bare, between: Point) -> list[Place]:  # noqa: ARG001
    from neckmodel.jigs.kinds.dovetail import plan

    sizes = plan(layout)
    tenon, down = sizes.tenon, 0.0 if piece.name == "neck" else sizes.low
    found = [_on_line(tenon.x_root, "joint"), _on_line(tenon.x_end, "dovetail's end")]
    for side in (-1.0, 1.0):
        for name, x in (("root", tenon.x_root), ("end", tenon.x_end)):
            found.append(Place((x, side * tenon.half_at(x, down), -down), f"dovetail's {name}", (ACROSS,)))
    if piece.name == "neck":
        found += [Place((0.0, 0.0, 0.0), "glue plane", (UPWARD,), datum=True)]
        found += [Place((tenon.x_end, 0.0, -tenon.depth), "dovetail's bottom", (UPWARD,))]
    return found


def notes(layout: Layout, kind: str, piece: Bare, between: Point | None) -> list[str]:
    """What no size tells about a piece. between: x of its ends where it lies along the neck, mm."""
    if kind == "cradle":
        return [f"Its label is cut into its underside: {', '.join(piece.label.words)}."]
    if kind != "caul" or between is None:
        return []
    from neckmodel.jigs.kinds.caul import GROOVE

    unit, board = layout.design.design.units, layout.fretboard
    radii = ["flat" if math.isinf(board.radius(x)) else with_unit(board.radius(x), unit) for x in between]
    face = f"hollow, of radius {radii[0]} at its left end and {radii[1]} at its right end"
    if radii[0] == radii[1]:
        face = "flat" if radii[0] == "flat" else f"hollow, of radius {radii[0]}"
    grooves = "" if layout.fretless else f" The frets' grooves are {with_unit(GROOVE, unit)} wide, along their frets."
    return [f"Its face is {face}.{grooves}"]
