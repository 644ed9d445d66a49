"""The rod and what it needs of the body, as plain data for other programs: lengths in mm."""

from __future__ import annotations

from dataclasses import asdict

from neckmodel.geometry.curve import arc_difference
from neckmodel.layout.body.recess import Recess
from neckmodel.layout.rod.rod import RodPlace


def recesses_json(recesses: tuple[Recess, ...]) -> list[dict[str, object]]:
    """The pockets that the body needs for an adjuster at the heel and its key, as data."""
    return [asdict(recess) for recess in recesses]


def rod_json(rod: RodPlace) -> dict[str, object]:
    """The rod as data. `x_adjuster` is the adjuster's outer face, wherever the adjuster lies; bounds and x_start are of
    the rod's nut-side end."""
    to_adjuster = rod.x_adjuster - rod.x_start
    data: dict[str, object] = {
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
        "axis_depth": rod.axis,
        "adjuster_tilt": rod.tilt,
        "segments": [asdict(segment) for segment in rod.segments],
        "axis": None,
        "washer": None if rod.washer is None else asdict(rod.washer),
        "cover_strip": None,
        "bounds": [
            {"side": side, "reason": b.reason, "x": b.x, "key": b.key}
            for side, bounds in (("from", rod.lower), ("to", rod.upper))
            for b in bounds
        ],
    }
    curve, strip = rod.curve, rod.strip
    if curve is not None:
        depths = {"start": curve.start, "middle": curve.middle, "end": curve.end, "sag": curve.sag}
        data["axis"] = {**depths, "arc_differs_by": arc_difference(curve.sag, curve.length)}
    if strip is not None:
        least, most = strip.underside.extremes()
        sizes = {"thickness_least": least, "thickness_most": most, "stock_thickness": strip.thickness}
        data["cover_strip"] = {"x_start": strip.x_start, "x_end": strip.x_end, "width": strip.width, **sizes}
    return data
