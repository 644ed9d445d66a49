"""What to have on the bench before the first cut: wood, rod, key, bars, screws, cutters and more."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.rod.rod import together
from neckmodel.layout.wood.strips import rough_size
from neckmodel.lengths import least, listed, most, tool_size, with_unit
from neckmodel.report.clamp import clamp_rows
from neckmodel.report.html import Html, el, section, table
from neckmodel.report.peg import peg_rows
from neckmodel.work.soundhole import drill_for

if TYPE_CHECKING:
    from neckmodel.design import String
    from neckmodel.layout import Layout

Row = tuple[str, str, str, str]
Write = Callable[[float | None], str]
COLUMNS = ("what", "how many", "size", "remark")
READING = (
    "Measure everything you have in hand, and put what you find into the design file: labels are not measurements. "
    "Sizes of wood are finished sizes unless the remark says otherwise."
)


def materials_section(layout: Layout) -> Html:
    """The section with the list of materials."""
    rows = order_list(layout)
    order = table("Materials and order list", COLUMNS, rows, text=len(COLUMNS))
    return section("materials", "Materials and order list", el("p", READING, class_="small"), order)


def order_list(layout: Layout) -> tuple[Row, ...]:
    """(what, how many, size, remark) of everything, sizes in the design's units."""
    unit = layout.design.design.units

    def write(value: float | None) -> str:
        return with_unit(value, unit)

    makers = (_wood, _rod, _key, _bars, _screws, _head, clamp_rows, peg_rows, _frets, _strings, _cutters, _drills)
    return tuple(row for make in makers for row in make(layout, write))


def _by(write: Write, *sizes: float) -> str:
    return " x ".join(write(size) for size in sizes)


def _trued(layout: Layout, write: Write) -> str:
    board = layout.design.board
    if board is None or board.surface == "trued":
        return "trued, as stated in the design"
    return f"trued from a rough one, {_by(write, board.length, board.width, board.thickness)}"


def _wood(layout: Layout, write: Write) -> list[Row]:
    design, board, nut = layout.design, layout.fretboard, layout.nut
    xs = [x for x, _ in layout.blank_profile]
    zs = [z for _, z in layout.blank_profile]
    blank = (max(xs) - min(xs), 2 * layout.blank_half_width, max(zs) - min(zs))
    rows: list[Row] = []
    of = "glued up from strips" if layout.strips else design.neck.wood
    if layout.board is not None:
        rows.append((f"board, {of}", "1", _by(write, *layout.board), _trued(layout, write)))
    made = (
        "glued up from the board and these:" if layout.pieces else "least size that holds the sawn blank in one piece"
    )
    rows += _strips(layout, write)
    rows.append((f"blank over all, {of}", "1", _by(write, *blank), made))
    rows += [
        (
            f"{plain(piece.name)}, {_wood_of(layout, piece.name)}",
            "1",
            _by(write, *piece.stock),
            "stock glued to the neck",
        )
        for piece in layout.pieces
    ]
    if (cap := layout.heel_cap) is not None:
        rows.append((f"heel cap, {cap.cap.wood}", "1", _by(write, *cap.size), "glued under the heel last of all"))
    rows += [
        (f"{plain(wing.name)}, the body's wood", "1", _by(write, *wing.stock), "stock glued to the neck's side")
        for wing in layout.body_wings
    ]
    wide = 2 * max(board.half_width(board.x_start), board.half_width(board.x_end))
    size = _by(write, board.x_end - board.x_start, wide, board.thickness)
    if not layout.in_one:
        rows.append((f"fretboard, {design.fretboard.wood}", "1", size, "at its wider end"))
    rows.append(
        ("nut", "1", _by(write, 2 * nut.half_width, nut.x_end - nut.x_start, nut.height), "length x thickness x height")
    )
    return rows


def _wood_of(layout: Layout, piece: str) -> str:
    """The wood of a piece glued to the neck: a head piece is sawn from the board itself."""
    return "the board's strips" if layout.strips and piece == "head-piece" else layout.design.neck.wood


def _strips(layout: Layout, write: Write) -> list[Row]:
    """The strips of a board that is glued up; those of one wood and width in one row."""
    found: dict[tuple[str, float], list[str]] = {}
    for strip in layout.strips:
        found.setdefault((strip.wood, strip.width), []).append(str(strip.number))
    rows: list[Row] = []
    for (wood, width), numbers in found.items():
        size = (layout.board[0], layout.board[2], width) if layout.board is not None else (0.0, 0.0, width)
        which = f"strip{'s' if len(numbers) > 1 else ''} {listed(numbers)} from the bass side"
        rough = _by(write, *rough_size(size))
        says = f"{which}; length x height x width, planed. To buy, rough: {rough} (common practice)"
        rows.append((f"strip, {wood}", str(len(numbers)), _by(write, *size), says))
    return rows


def _rod(layout: Layout, write: Write) -> list[Row]:
    place, rod = together(layout.rods), layout.design.rod
    if place is None or rod is None:
        return []
    sizes = f"length {write(rod.length)}, "
    sizes += (
        f"width {write(rod.width)}, height {write(rod.height)}"
        if rod.diameter is None
        else f"{write(rod.diameter)} in diameter"
    )
    count = str(len(layout.rods))
    rows: list[Row] = [
        (
            f"{rod.kind} truss rod, as designed",
            count,
            sizes,
            f"adjuster at the {layout.adjuster_end}, {write(rod.adjuster.diameter)} in diameter, "
            f"{rod.adjuster.socket.kind} {write(rod.adjuster.socket.size)}; length with the adjuster backed right off",
        )
    ]
    if rod.washer is not None:
        size = f"{write(rod.washer.diameter)} in diameter, {write(rod.washer.thickness)} thick"
        rows.append(("washer", count, size, "under the adjuster"))
    if (strip := layout.back_strip) is not None:
        size = _by(write, *strip.stock)
        rows.append((f"back strip, {strip.wood}", "1", size, "behind the rod, before it is planed and carved"))
    if rod.cover_strip is not None:
        rows.append(
            (f"cover strip, {rod.cover_strip.wood}", count, f"{write(rod.cover_strip.thickness)} thick", "over the rod")
        )
    if place.fitting_from <= min(place.fitting_to, place.fitting_to_well_covered) + 1e-6:
        unit, longest = layout.design.design.units, min(place.fitting_to, place.fitting_to_well_covered)
        fits = f"length from {write(least(place.fitting_from, unit))} to {write(most(longest, unit))}"
    else:
        fits = "none fits this design"
    rows.append(("rods that would fit", "-", fits, "of this section and adjuster, each in its own best place"))
    return rows


def _key(layout: Layout, write: Write) -> list[Row]:
    key, stated = layout.key, layout.design.adjusting_key
    if key is None or stated is None:
        return []
    if key.kind == "L-key":
        arms = f"arms {write(stated.long_arm)} and {write(stated.short_arm)}"
        return [
            (
                "adjusting key, L-key",
                "1",
                f"{write(key.size)} across flats, {arms}",
                f"the {stated.arm_in_socket} arm in the socket",
            )
        ]
    across = "in diameter" if key.kind == "bar" else "across flats"
    size = f"{write(key.size)} {across}, {write(stated.length)} long"
    if key.handle_diameter > 0:
        size += f", handle {write(key.handle_diameter)} in diameter"
    return [(f"adjusting key, {key.kind}", "1", size, "length without its handle")]


def _bars(layout: Layout, write: Write) -> list[Row]:
    found = Counter((b.material, b.x_end - b.x_start, b.width, b.height) for b in layout.bars)
    return [
        (f"bar, {material}", str(count), _by(write, long, wide, high), "glued in; trued to size")
        for (material, long, wide, high), count in found.items()
    ]


def _screws(layout: Layout, write: Write) -> list[Row]:
    found = Counter((s.kind, s.diameter, s.length, s.hole) for s in layout.screws)
    return [
        (
            f"{kind} for the heel",
            str(count),
            f"{write(diameter)} in diameter, {write(long)} long",
            f"hole {write(hole)} in the neck",
        )
        for (kind, diameter, long, hole), count in found.items()
    ]


def _head(layout: Layout, write: Write) -> list[Row]:
    found = Counter((t.hole, t.housing_length, t.housing_width) for t in layout.tuners)
    posts = [
        (
            "tuner",
            str(count),
            f"hole {write(hole)}, housing {_by(write, long, wide)}",
            "housing: length along the head x width",
        )
        for (hole, long, wide), count in found.items()
    ]
    return [*_rollers(layout, write), *posts]


def _rollers(layout: Layout, write: Write) -> list[Row]:
    found = Counter((one.side, one.hole) for one in layout.rollers)
    rows: list[Row] = []
    for (side, hole), count in found.items():
        places = sorted(-one.along for one in layout.rollers if one.side == side)
        apart = [write(b - a) for a, b in pairwise(places)]
        spaced = f", {' and '.join(dict.fromkeys(apart))} apart" if apart else ""
        what = f"roller for a hole {write(hole)}{spaced}"
        rows.append((f"side tuner, {side}", str(count), what, "for a slotted head"))
    return rows


def _frets(layout: Layout, write: Write) -> list[Row]:
    board = layout.fretboard
    lines = [board.line(fret.x, fret.slope) for fret in layout.sawn]
    if not lines:
        return []
    total = sum(math.dist(*line) for line in lines)
    filler = layout.design.fretboard.fret_slot.filler
    if layout.fretless and filler is not None:
        strip = f"{write(board.slot_width)} thick, {write(board.slot_depth)} high and what is planed off"
        return [(f"filler, {filler}", f"{len(lines)} lines", f"{write(total)} in all", strip)]
    slot = f"fret slots {write(board.slot_width)} wide, {write(board.slot_depth)} deep"
    return [
        (
            "fret wire",
            f"{len(lines)} frets",
            f"{write(total)} in all",
            f"{slot}; add what you leave standing over at the ends",
        )
    ]


def _strings(layout: Layout, write: Write) -> list[Row]:
    rows: list[Row] = []
    for number, string in enumerate(layout.design.strings.each, 1):
        note = "" if string.note is None else f", {string.note}"
        rows.append((f"string {number}{note}", "1", f"{write(string.diameter)} in diameter", _made_of(string, write)))
    return rows


def _made_of(string: String, write: Write) -> str:
    """What the design states about a string besides its diameter."""
    if string.mass_per_length is not None:
        return f"{string.mass_per_length:g} g/m"
    if string.tension is not None:
        return f"{string.tension:g} N at pitch"
    if string.wound is not None:
        wound = string.wound
        wires = listed(write(wire) for wire in wound.wrap)
        return f"{wound.on} core {write(wound.core)}, wound with {wires} {wound.material}"
    return string.material or "-"


def _cutters(layout: Layout, write: Write) -> list[Row]:
    unit = layout.design.design.units
    used: dict[float, list[str]] = {}
    for cutting in layout.cuttings:
        if cutting.diameter is not None:
            used.setdefault(cutting.diameter, []).append(cutting.step)
    reach = {cutting.step: cutting.reach for cutting in layout.cuttings}
    return [
        (
            "straight router cutter",
            "1",
            f"{tool_size(diameter, unit)} across, stick-out at least {write(max(reach[step] for step in steps))}",
            f"for: {', '.join(plain(step) for step in steps)}",
        )
        for diameter, steps in sorted(used.items())
    ]


def _drills(layout: Layout, write: Write) -> list[Row]:
    """For the bore in the body of a key from the soundhole: long enough to lead from the neck's end to the hole."""
    way = layout.soundhole_way
    if way is None:
        return []
    rows, of = [], "each" if layout.paired else "the"
    for bore in way.bores:
        through = [hole.x_end for hole in way.holes if hole.bore is bore]
        if not through:
            continue
        size = f"{write(drill_for(bore))} in diameter, reaching at least {write(max(through) - way.x_wood)}"
        rows.append(("drill for the body", "1", size, f"{of} {bore.what}'s bore, from the neck's pocket"))
    return rows
