"""The way of a key from the soundhole on the sheets: the body's top, block and braces, and the bore. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rectangle
from neckmodel.sheets.marks.dimensions import Note
from neckmodel.sheets.marks.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.design import Soundhole
    from neckmodel.layout import Layout
    from neckmodel.layout.access.soundhole import BodyHole, Bore, SoundholeWay
    from neckmodel.layout.key.key import KeyPlace

ROUND = 60  # stretches of the soundhole's edge
BESIDE = 22.0  # mm of a brace, block and top drawn to either side of the centre line in a section
BELOW = 8.0  # mm of a block drawn under the bore in a section


def draw_way_plan(sketch: Sketch, layout: Layout, half: float) -> None:
    """Right-handed: the near edge of the soundhole, the block's face, the braces and the bore. half: what is drawn."""
    way = layout.soundhole_way
    if way is None:
        return
    if (hole := layout.design.body.soundhole) is not None:
        sketch.line(layers.BODY, *_edge(hole, half))
    faces = [] if way.x_block is None else [way.x_block]
    for x in [*faces, *(x for hole in _wood(way) for x in (hole.x_start, hole.x_end))]:
        sketch.line(layers.BODY, (x, -half), (x, half))
    for bore in way.bores:
        wide = bore.diameter / 2
        for rod in layout.rods:
            sketch.add(rectangle(layers.BORE, (bore.x_start, bore.x_end), (rod.y - wide, rod.y + wide)))


def _edge(hole: Soundhole, half: float) -> list[Point]:
    """The soundhole's edge on the neck's side, as far as |y| <= half."""
    middle, long, wide = (hole.from_ + hole.to) / 2, (hole.to - hole.from_) / 2, hole.width / 2
    most = math.asin(min(half / wide, 1.0))
    turns = [most * (2 * k / ROUND - 1) for k in range(ROUND + 1)]
    return [(middle - long * math.cos(turn), wide * math.sin(turn)) for turn in turns]


def _wood(way: SoundholeWay) -> Iterator[BodyHole]:
    """Each brace that the bore goes through, once."""
    seen: set[str] = set()
    for hole in way.braces:
        if hole.name not in seen:
            seen.add(hole.name)
            yield hole


def draw_way_side(sketch: Sketch, layout: Layout, z0: float) -> None:
    """From the side: the top up to the soundhole, the block's face, the braces, the bore and the key in its socket.
    z0: y of the glue plane."""
    way, key = layout.soundhole_way, layout.key
    if way is None or key is None:
        return
    top = way.top
    ends = (top.x_joint, way.x_from)
    upper, lower = [(x, z0 + top.over(x)) for x in ends], [(x, z0 + top.under(x)) for x in ends[::-1]]
    sketch.area(layers.BODY, [*upper, *lower], False)
    if way.x_block is not None:
        low = min(z for _, z in layout.blank_profile)
        sketch.line(layers.BODY, (way.x_block, z0 + top.under(way.x_block)), (way.x_block, z0 + low))
    for k, brace in enumerate(layout.design.body.braces):
        if any(hole.name == f"brace-{k + 1}" for hole in way.braces):
            xs, deep = (brace.from_, brace.to), brace.depth
            under = [(x, z0 + top.under(x)) for x in xs]
            sketch.area(layers.BODY, [*under, *((x, z - deep) for x, z in under[::-1])], False)
    for bore in way.bores:
        sketch.area(layers.BORE, [(x, z0 + z) for x, z in _outline(bore)], False)
    for shape in _key_shapes(key):
        sketch.area(layers.KEY, [(x, z0 + z) for x, z in shape], False)


def _outline(bore: Bore) -> list[Point]:
    xs = (bore.x_start, bore.x_end)
    return [*((x, bore.upper(x)) for x in xs), *((x, bore.lower(x)) for x in xs[::-1])]


def _key_shapes(key: KeyPlace) -> Iterator[list[Point]]:
    """The key from the side: its shank and its handle, or an L-key's two arms, by its width across corners."""
    half = key.corners / 2

    def placed(x0: float, x1: float, z0: float, z1: float) -> list[Point]:
        turn = math.radians(key.tilt)
        c, s = math.cos(turn), math.sin(turn)
        corners = ((x0, z0), (x1, z0), (x1, z1), (x0, z1))
        return [(key.x_tip + x * c - z * s, -key.axis + x * s + z * c) for x, z in corners]

    if key.hangs:
        yield placed(0.0, key.arm, -half, half)
        yield placed(key.arm - key.corners, key.arm, half - key.rise, half)
        return
    yield placed(0.0, key.length, -half, half)
    if key.handle_diameter > 0:
        yield placed(key.length, key.reach, -key.handle_diameter / 2, key.handle_diameter / 2)


def way_notes(layout: Layout, z0: float) -> list[Note]:
    """The bore's size and place, and the wood that it leaves, each with the place it is about."""
    way, unit = layout.soundhole_way, layout.design.design.units
    if way is None:
        return []
    notes = []
    for bore in way.bores:
        x = (bore.x_start + bore.x_end) / 2
        what = f"each {bore.what}" if layout.paired else f"the {bore.what}"
        says = f"bore for {what} {with_unit(bore.diameter, unit)} across, its middle {_deep(bore, unit)} deep"
        notes.append(Note(x, z0 + bore.lower(x), says))
    for hole in way.braces:
        x = (hole.x_start + hole.x_end) / 2
        notes.append(Note(x, z0 + hole.bore.lower(x), f"{plain(hole.name)}: {_kept(hole, unit)}"))
    return notes


def _deep(bore: Bore, unit: str) -> str:
    start, end = with_unit(bore.axis_start, unit), with_unit(bore.axis_end, unit)
    return start if start == end else f"{start} to {end}"


def _kept(hole: BodyHole, unit: str) -> str:
    if hole.over is None or hole.under is None:
        return ""
    return f"{with_unit(hole.over.value, unit)} over the bore, {with_unit(hole.under.value, unit)} under it"


@dataclass(frozen=True)
class BodySection:
    """A section through the body's block or a brace, where the bore has least wood under it."""

    name: str
    x: float
    hole: BodyHole


def body_sections(layout: Layout) -> tuple[BodySection, ...]:
    """One for each hole in block and braces, from the neck on; none without a way from the soundhole."""
    way = layout.soundhole_way
    if way is None:
        return ()
    found = []
    for hole in way.holes:
        name = "the body's block" if hole.under is None else plain(hole.name)
        x = hole.x_end if hole.under is None else hole.under.x
        found.append(BodySection(f"{name}, bored for the {hole.bore.what}", x, hole))
    return tuple(found)


def draw_body_section(sketch: Sketch, layout: Layout, section: BodySection, at: Point, scale: float) -> None:
    """The top, the wood under it and the bore at x; the glue plane's middle lies at `at`."""
    way, bore, x = layout.soundhole_way, section.hole.bore, section.x
    if way is None:
        return
    under, over = way.top.under(x), way.top.over(x)
    beside = BESIDE + max(abs(rod.y) for rod in layout.rods)
    deep = -bore.lower(x) + under + BELOW
    if section.hole.under is not None:
        deep = under - bore.lower(x) + section.hole.under.value

    def box(z_low: float, z_high: float) -> tuple[float, float, float, float]:
        return (
            at[0] - beside * scale,
            at[1] + z_low * scale,
            at[0] + beside * scale,
            at[1] + z_high * scale,
        )

    sketch.box(layers.WOOD, box(under - deep, under), True)
    sketch.box(layers.WOOD, box(under, over), True)
    for rod in layout.rods:
        middle = (at[0] - rod.y * scale, at[1] - bore.axis(x) * scale)
        sketch.circle(layers.BORE, middle, bore.diameter / 2 * scale)
        if layout.key is not None and bore.what == "key":
            sketch.circle(layers.KEY, middle, layout.key.corners / 2 * scale)
    sketch.line(layers.DATUM, (at[0] - beside * scale, at[1]), (at[0] + beside * scale, at[1]))
    sketch.line(layers.CENTRE, (at[0], at[1] + (over + 2.0) * scale), (at[0], at[1] + (under - deep - 2.0) * scale))


def body_words(layout: Layout, section: BodySection, unit: str) -> list[str]:
    """The numbers beside such a section."""
    way, hole, x = layout.soundhole_way, section.hole, section.x
    if way is None:
        return []
    facts = [
        f"x {with_unit(x, unit)}; the bore runs through it from x {with_unit(hole.x_start, unit)} to "
        f"{with_unit(hole.x_end, unit)}",
        f"bore {with_unit(hole.bore.diameter, unit)} across, its middle {with_unit(hole.bore.axis(x), unit)} below "
        "the glue plane",
        f"top {with_unit(way.top.thickness, unit)} thick, its under side {with_unit(-way.top.under(x), unit)} below "
        "the glue plane",
    ]
    if hole.over is not None and hole.under is not None:
        facts.append(f"least wood of the brace: {_kept(hole, unit)}")
    return facts
