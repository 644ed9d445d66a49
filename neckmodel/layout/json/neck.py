"""The neck's shaft, head with its tuners and heel with its screws, as plain data for other programs: lengths in mm."""

from __future__ import annotations

from neckmodel.layout.hardware.clamp import ClampPlace
from neckmodel.layout.hardware.slots import Roller, SlotPair
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.layout import Layout


def shaft_json(layout: Layout) -> dict[str, object]:
    """`sections`: the back's law at the nut and at every fret as far as the heel's swell; areas in mm2."""
    back, heel = layout.back, layout.heel
    places = [(0, 0.0)] + [(f.number, f.x) for f in layout.frets.frets if f.x <= heel.x_swell]
    return {
        "joint": heel.x_joint,
        "wood_ends_at": heel.x_end,
        "thickness_nut": back.thickness(0.0),
        "depth_nut": back.depth(0.0),
        "depth_joint": back.depth(heel.x_joint),
        "sections": [
            {
                "fret": n,
                "x": x,
                "half_width": back.half_width(x),
                "depth": back.depth(x),
                "fullness": back.exponent(x),
                "deepest_y": back.middle(x) + back.apex(x),
                "area": back.section(x).area(),
            }
            for n, x in places
        ],
    }


def head_json(layout: Layout) -> dict[str, object]:
    """`outline`: (x, y, bulge) of a drawn head's corners, null where the sides are straight; angle in degrees. A neck
    without a head has x_line 0, and `clamp` where one is stated."""
    head, volute = layout.head, layout.head.volute
    found: dict[str, object] = {
        "kind": head.kind,
        "x_line": head.x_line,
        "x_far": head.x_far,
        "angle": head.angle,
        "drop": head.drop,
        "thickness": head.thickness,
        "length": head.length,
        "near": head.near,
        "far": head.far,
        "outline": None if head.contour is None else [list(corner) for corner in head.contour.corners],
        "volute": None
        if volute is None
        else {"x_start": volute.x_start, "x_end": volute.x_end, "height": volute.height},
    }
    if layout.clamp is not None:
        found["clamp"] = clamp_json(layout.clamp)
    return found


def clamp_json(clamp: ClampPlace) -> dict[str, object]:
    """The clamp's envelope, its bottom at z = 0; `depth` of a screw's hole counts from there down."""
    return {
        "x_start": clamp.x_start,
        "x_end": clamp.x_end,
        "width": 2 * clamp.half_width,
        "height": clamp.height,
        "past_end": clamp.past_end,
        "screws": [
            {"name": s.name, "x": s.x, "y": s.y, "diameter": s.diameter, "depth": s.depth} for s in clamp.screws
        ],
    }


def tuners_json(layout: Layout) -> list[dict[str, object]]:
    """x, y, z: where the hole's axis meets the head's face; of a roller in a slotted head, the middle of its axis in
    the slot, and `y_end` the hole's inner end."""
    if layout.slots is not None:
        return [_roller_json(roller) for roller in layout.rollers]
    return [
        {
            **{"name": t.name, "x": t.on_face[0], "y": t.on_face[1], "z": t.on_face[2], "hole": t.hole},
            "string_height": t.string_height,
            "tree": None if t.tree is None else {"along_face": t.tree[0], "height": t.tree[1]},
        }
        for t in layout.tuners
    ]


def _roller_json(roller: Roller) -> dict[str, object]:
    x, y, z = roller.middle
    return {
        **{"name": roller.name, "x": x, "y": y, "z": z, "hole": roller.hole, "side": str(roller.side)},
        **{"along_face": roller.along, "below_face": roller.below, "into_core": roller.into_core},
        **{"y_end": roller.y_end, "string": roller.string},
    }


def slots_json(layout: Layout, slots: SlotPair) -> dict[str, object]:
    """Along the face from the head line, toward the far end negative; `inner` and `outer` are the walls' distances from
    the centre line. `clearances`: room under each string where it comes down. Angle in degrees."""
    ramp = slots.ramp
    return {
        **{"near": slots.near, "far": slots.far, "width": slots.width, "ends": slots.ends},
        **{"inner": slots.inner, "outer": slots.outer, "cheek": slots.edge, "core": slots.core},
        "ramp": None if ramp is None else {"length": ramp[0], "angle": ramp[1]},
        "bore_walls": [{"tuner": wall.tuner, "to": wall.to, "wood": wall.wood} for wall in slots.bore_walls()],
        "clearances": [
            {"string": descent.string, "tuner": descent.tuner, "where": place.where, "room": place.room}
            for descent in layout.descents
            for place in descent.places
        ],
    }


def heel_json(layout: Layout) -> dict[str, object]:
    """`depth` counts from the glue plane down; `tenon` is null for a heel without one. Only where the design has them:
    `width_bottom` of a heel that narrows, `cap`, and of a dovetail its angles in degrees and its widths at the root."""
    heel, tenon, cap = layout.heel, layout.heel.tenon, layout.heel_cap
    found: dict[str, object] = {
        "kind": heel.kind,
        "x_joint": heel.x_joint,
        "x_end": heel.x_end,
        "depth": heel.depth,
        "width_end": 2 * layout.outside.half_width(heel.x_end),
        "tenon": None
        if tenon is None
        else {"length": heel.x_end - heel.x_joint, "width": 2 * tenon.half_width, "depth": tenon.depth},
    }
    if isinstance(tenon, Dovetail):
        root = {name: 2 * tenon.half_at(heel.x_joint, deep) for name, deep in (("top", 0.0), ("bottom", tenon.depth))}
        found["dovetail"] = {
            **{
                "flare": tenon.flare,
                "taper": tenon.taper,
                "width_end_bottom": 2 * tenon.half_at(heel.x_end, tenon.depth),
            },
            **{"width_root": root["top"], "width_root_bottom": root["bottom"], "shoulder": heel.shoulder()[0]},
        }
    if heel.half_bottom is not None:
        found["width_joint"], found["width_bottom"] = 2 * layout.outside.half_width(heel.x_joint), 2 * heel.half_bottom
    if cap is not None:
        found["cap"] = {"x_start": cap.x_start, "x_end": cap.x_end, "width": cap.width, "thickness": cap.cap.thickness}
    return found


def screws_json(layout: Layout) -> list[dict[str, object]]:
    """`bite`: length in the neck's wood; `z_point`: how deep the point comes, 0 at the glue plane."""
    return [
        {"name": s.name, "kind": s.kind, "x": s.x, "y": s.y, "bite": s.bite, "z_point": s.z_point}
        for s in layout.screws
    ]
