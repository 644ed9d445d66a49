"""The rules of rod, adjusting key and bars."""

from __future__ import annotations

import math
from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, Needing, at_least, at_most, length, less_than, more_than, needs

SOCKET_PLAY = 0.02  # mm across flats: least width of a hexagon socket over its nominal size (ISO 4762, from memory)
_SAME = 0.005  # mm, lengths measured with callipers that are this near add up
_LOOSE = 0.3  # mm a key may be smaller than its socket across flats before it would round it (common practice)


@needs("rod")
def rod_lengths(design: Design) -> Iterator[Broken]:
    """The rod's parts must come to its length, and the adjuster be longer than its travel."""
    rod = design.rod
    if rod is None:
        return
    parts = rod.adjuster.length + rod.block.length + rod.anchor.length
    if rod.segments and rod.kind != "compression":
        parts = rod.adjuster.length + sum(segment.length for segment in rod.segments)
        if abs(parts - rod.length) > _SAME:
            says = f"come to {length(parts)} with the adjuster, and rod.length is {length(rod.length)}"
            fit = f"allowed are segments of {length(rod.length - rod.adjuster.length)} together"
            yield Broken("rod.segments", says, fit)
    elif parts > rod.length:
        says = "is less than its adjuster, block and anchor together"
        yield Broken("rod.length", says, at_least(parts))
    if rod.adjuster.travel >= rod.adjuster.length:
        limit = less_than(rod.adjuster.length)
        yield Broken("rod.adjuster.travel", "is not less than the adjuster's length", limit)


@needs("rod")
def rod_heights(design: Design) -> Iterator[Broken]:
    """The adjuster's axis must lie within the rod's height."""
    rod = design.rod
    if rod is None or rod.kind == "compression":
        return
    highest = max(rod.height, rod.block.height)
    if rod.segments:
        highest = max(segment.top + segment.height for segment in rod.segments)
    if rod.adjuster.axis_below_top >= highest:
        says = "puts the axis below the rod"
        yield Broken("rod.adjuster.axis_below_top", says, less_than(highest))


@needs("rod")
def compression_rod(design: Design) -> Iterator[Broken]:
    """A compression rod must state its diameter and the depth of its axis."""
    rod = design.rod
    if rod is None or rod.kind != "compression":
        return
    for name in ("diameter", "axis_depth"):
        if getattr(rod, name) is None:
            yield Broken(f"rod.{name}", "is missing", "a compression rod needs it")


@needs("rod")
def socket(design: Design) -> Iterator[Broken]:
    """The socket must fit into the adjuster. A spoke wheel must state its holes and sit at the heel."""
    if design.rod is None:
        return
    adjuster = design.rod.adjuster
    if adjuster.socket.kind == "spokes" and adjuster.socket.holes is None:
        yield Broken("rod.adjuster.socket.holes", "is missing", "a spoke wheel needs the number of its holes")
    if adjuster.socket.kind == "spokes" and not design.rod.at_heel:
        says = 'is "head", where the fretboard covers a spoke wheel'
        yield Broken("rod.adjuster_at", says, 'allowed is "heel" with a spoke wheel', "or a hexagon socket")
    widest = adjuster.diameter * math.sqrt(3) / 2 - SOCKET_PLAY  # the hexagon whose corners reach the adjuster's side
    if adjuster.socket.kind == "hex" and adjuster.socket.size >= widest:
        says = "is wider across its corners than the adjuster"
        yield Broken("rod.adjuster.socket.size", says, less_than(widest))
    if adjuster.wheel is not None and adjuster.wheel > adjuster.length:
        yield Broken("rod.adjuster.wheel", "is wider than the adjuster is long", at_most(adjuster.length))


@needs("adjusting_key")
def key_lengths(design: Design) -> Iterator[Broken]:
    """The adjusting key must state the lengths that its kind needs, the short arm being the shorter one."""
    key = design.adjusting_key
    if key is None:
        return
    wanted = ("short_arm", "long_arm") if key.kind == "L-key" else ("length",)
    for name in wanted:
        if getattr(key, name) is None:
            yield Broken(f"adjusting_key.{name}", "is missing", f'kind = "{key.kind}" needs it')
    if key.kind == "L-key" and key.short_arm is not None and key.long_arm is not None and key.short_arm > key.long_arm:
        yield Broken("adjusting_key.short_arm", "is longer than long_arm", at_most(key.long_arm))


@needs("adjusting_key", "rod")
def key_in_socket(design: Design) -> Iterator[Broken]:
    """The adjusting key must be of the socket's kind and size, and go in no deeper than the socket."""
    key, rod = design.adjusting_key, design.rod
    if key is None or rod is None:
        return
    hole = rod.adjuster.socket
    if (key.kind == "bar") != (hole.kind == "spokes"):
        turns = "only a bar turns a spoke wheel" if hole.kind == "spokes" else "a bar turns nothing but a spoke wheel"
        yield Broken("adjusting_key.kind", f"does not fit the socket: {turns}", attempt="or another socket.kind")
    if not hole.size - _LOOSE <= key.size <= hole.size:
        allowed = f"allowed are {length(hole.size - _LOOSE)} to {length(hole.size)}"
        yield Broken("adjusting_key.size", f"does not fit the socket of {length(hole.size)}", allowed)
    if key.engaged_depth > hole.depth:
        yield Broken("adjusting_key.engaged_depth", "is more than the socket's depth", at_most(hole.depth))


@needs("rod")
def rods_apart(design: Design) -> Iterator[Broken]:
    """Two rods say how far from the centre line they lie, and do not overlap."""
    rod = design.rod
    if rod is None or rod.count == 1:
        return
    half = max(rod.width, rod.block.width, rod.anchor.width, rod.adjuster.diameter, rod.diameter or 0.0) / 2
    if rod.offset is None:
        says = "is missing: two rods lie that far either side of the centre line"
        yield Broken("rod.offset", says, more_than(half), "rod.count = 1 for a single rod")
    elif rod.offset <= half:
        yield Broken("rod.offset", "lets the two rods overlap", more_than(half))


@needs("bars", "rod")
def bars_apart(design: Design) -> Iterator[Broken]:
    """Bars must not overlap each other or the rod."""
    bars, rod = design.bars, design.rod
    if bars is None:
        return
    if bars.count == 2 and bars.offset <= bars.width / 2:
        says = "lets the two bars overlap"
        yield Broken("bars.offset", says, more_than(bars.width / 2))
    least = ((rod.width if rod else 0.0) + bars.width) / 2
    if rod is not None and bars.count == 1 and rod.count == 1 and bars.offset <= least:
        yield Broken("bars.offset", "puts the bar into the rod", more_than(least))


ROD_RULES: tuple[Needing, ...] = (
    rod_lengths,
    rod_heights,
    compression_rod,
    socket,
    key_lengths,
    key_in_socket,
    rods_apart,
    bars_apart,
)
