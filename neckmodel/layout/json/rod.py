"""The rod and the glued bars as plain data for other programs: lengths in mm."""

from __future__ import annotations

from dataclasses import asdict

from neckmodel.geometry.curve import arc_difference
from neckmodel.layout.layout import Layout
from neckmodel.layout.rod.rod import RodPlace


def rod_json(layout: Layout) -> dict[str, object] | None:
    """The rod as data, of two the bass side's; None for a neck without one."""
    return None if layout.rod is None else _rod(layout.rod)


def rods_json(layout: Layout) -> list[dict[str, object]]:
    """Both of two rods, the bass side's first."""
    return [{"name": f"rod{rod.suffix}", "y": rod.y, **_rod(rod)} for rod in layout.rods]


def _rod(rod: RodPlace) -> dict[str, object]:
    """`x_adjuster` is the adjuster's outer face, wherever the adjuster lies; bounds and x_start are of the rod's
    nut-side end."""
    return {
        **_place(rod),
        "axis_depth": rod.axis,
        "adjuster_tilt": rod.tilt,
        "segments": [asdict(segment) for segment in rod.segments],
        "axis": _axis(rod),
        "washer": None if rod.washer is None else asdict(rod.washer),
        "cover_strip": _strip(rod),
        "bounds": [
            {"side": side, "reason": b.reason, "x": b.x, "key": b.key}
            for side, bounds in (("from", rod.lower), ("to", rod.upper))
            for b in bounds
        ],
        **({} if rod.bar is None else {"bar": rod.bar}),
    }


def _place(rod: RodPlace) -> dict[str, object]:
    to_adjuster = rod.x_adjuster - rod.x_start
    return {
        "kind": rod.kind,
        "adjuster_at": rod.adjuster_at,
        "x_start": rod.x_start,
        "x_end": rod.x_end,
        "x_adjuster": rod.x_adjuster,
        "x_anchor_end": rod.x_anchor_end,
        "x_adjuster_min": rod.x_min + to_adjuster,
        "x_adjuster_max": rod.x_max + to_adjuster,
        "x_start_min": rod.x_min,
        "x_start_max": rod.x_max,
        "x_adjuster_last_good_for_fret_1": rod.x_span + to_adjuster,
        "x_adjuster_last_covered": rod.x_cover,
        "x_adjuster_last_well_covered": rod.x_well_covered,
        "x_start_first_clear_of_fretboard": rod.x_wheel,
        "fitting_length_from": rod.fitting_from,
        "fitting_length_to": rod.fitting_to,
        "fitting_length_to_well_covered": rod.fitting_to_well_covered,
    }


def _axis(rod: RodPlace) -> dict[str, object] | None:
    """The bent axis of a compression rod; None for a straight rod."""
    curve = rod.curve
    if curve is None:
        return None
    depths = {"start": curve.start, "middle": curve.middle, "end": curve.end, "sag": curve.sag}
    return {**depths, "arc_differs_by": arc_difference(curve.sag, curve.length)}


def _strip(rod: RodPlace) -> dict[str, object] | None:
    strip = rod.strip
    if strip is None:
        return None
    least, most = strip.underside.extremes()
    sizes = {"thickness_least": least, "thickness_most": most, "stock_thickness": strip.thickness}
    return {"x_start": strip.x_start, "x_end": strip.x_end, "width": strip.width, **sizes}


def bars_json(layout: Layout) -> list[dict[str, object]]:
    """`x_min`, `x_max`: the interval in which a bar's nut-side end may lie."""
    return [
        {
            "name": b.name,
            "x_start": b.x_start,
            "x_end": b.x_end,
            "y": b.y,
            "width": b.width,
            "height": b.height,
            "x_min": max(c.x for c in b.lower),
            "x_max": min(c.x for c in b.upper),
        }
        for b in layout.bars
    ]
