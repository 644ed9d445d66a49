"""The fretboard and the nut as plain data for other programs: lengths in mm."""

from __future__ import annotations

from neckmodel.layout.layout import Layout


def fretboard_json(layout: Layout) -> dict[str, object]:
    """Half widths and margins lie along x = 0 and the fretboard's own end; slots are the fret slots."""
    board, strings = layout.fretboard, layout.frets.strings
    return {
        "x_start": board.x_start,
        "x_end": board.x_end,
        "start": [list(point) for point in board.start],
        "end": [list(point) for point in board.end],
        "width_nut": 2 * board.half_width(0.0),
        "width_end": 2 * board.half_width(board.x_end),
        "thickness": board.thickness,
        "edge_thickness_nut": board.edge_thickness(0.0),
        "edge_thickness_end": board.edge_thickness(board.x_end),
        "radius_nut": board.radius_nut,
        "radius_end": board.radius_end,
        "margin_nut": board.margin_nut,
        "margin_last_fret": board.margin_last,
        "margins_at_string_ends": [
            strings[0].y_nut - board.bass(strings[0].x_nut),
            board.treble(strings[-1].x_nut) - strings[-1].y_nut,
        ],
        "least_wood_below_slot": min((s.wood_below for s in board.slots), default=None),
        "least_slot_at_edge": min((s.seat_at_edge for s in board.slots), default=None),
        **_without_frets(layout),
        **_beside_a_later_string(layout),
    }


def _beside_a_later_string(layout: Layout) -> dict[str, object]:
    """The step of the bass side, and the string's peg; {} where every string starts at the nut."""
    board, peg = layout.fretboard, layout.peg
    if board.later is None:
        return {}
    places = (("nut", 0.0), ("step starts", board.later.x_from), ("step ends", board.later.x_to))
    edges = [{"at": name, "x": x, "y_bass": board.bass(x), "y_treble": board.treble(x)} for name, x in places]
    if peg is None:
        return {"step": edges, "peg": None}
    mouth, tip = ({"x": x, "y": y, "z": z} for x, y, z in (peg.mouth, peg.end))
    return {
        "step": edges,
        "peg": {"from": "side" if peg.side else "back", "mouth": mouth, "tip": tip, "hole": peg.hole},
    }


def _without_frets(layout: Layout) -> dict[str, object]:
    """What a fretless fretboard has besides; {} where there are frets."""
    if not layout.fretless:
        return {}
    marks = [{"n": mark.number, "x": mark.x} for mark in layout.side_marks]
    return {"fretless": layout.design.fretboard.fretless, "side_marks": marks}


def nut_json(layout: Layout) -> dict[str, object]:
    """`strip` is the fretboard's wood behind a nut in a groove, null without one."""
    nut, strip = layout.nut, layout.nut_strip
    behind = None if strip is None else {"start": [*map(list, strip.start)], "end": [*map(list, strip.end)]}
    return {
        "x_start": nut.x_start,
        "x_end": nut.x_end,
        "outline": [list(corner) for corner in nut.corners],
        "z_seat": nut.z_seat,
        "height": nut.height,
        "strip": behind,
    }
