"""Remedies where a compression rod presses its washer or its anchor into the wood: less pull, or a larger face. Lengths
mm."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, layout_with, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.design.defaults.defaults import RANGES
from neckmodel.errors import DesignError
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.limits import LOAD_DURATION
from neckmodel.strength.bending.stress import spare_of_end_grain
from neckmodel.strength.estimate import estimate
from neckmodel.strength.materials.woods import SPREAD_COMPRESSION
from neckmodel.strength.rod.bearing import bearing_faces

if TYPE_CHECKING:
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.strength.estimate import Strength
    from neckmodel.strength.rod.bearing import Face
    from neckmodel.strength.rod.reach import RodEstimate

LARGEST = 3.0  # times its present size, the most that is tried for a washer or anchor
PARTS = 512  # of a range; a bound is found to one of them, for each try is an estimate
DEEPER = 8.0  # mm, the most that is tried for a deeper axis
MIDDLE, SLOT = "rod.axis_depth.middle", "fretboard.fret_slot.depth"


def bearing_spares(strength: Strength) -> tuple[float, float] | None:
    """(likely, in the worst case) how many times the pressure the end grain bears, at the face where it bears least.
    None for a rod that can set nothing."""
    rod, wood = strength.rod, strength.neck
    if rod is None or not rod.faces:
        return None
    likely = max(face.pressure(rod.likely.force) for face in rod.faces)
    most = max(face.pressure(rod.force_high) for face in rod.faces)
    weak = wood.parallel * (1 - SPREAD_COMPRESSION)
    return spare_of_end_grain(likely, wood.parallel), spare_of_end_grain(most, weak)


def less_pressure(layout: Layout, strength: Strength, rod: RodEstimate) -> Remedy | None:
    """Remedies: a rod bent more, which needs less pull; a larger washer and anchor; or fret slots of the usual depth,
    for a fretboard that carries more leaves less to the rod."""
    depth = layout.design.rod.axis_depth if layout.design.rod is not None else None
    slot = layout.design.fretboard.fret_slot.depth

    @cache  # as `least_less`: sizes of several grades ask again; each search lays out a dozen necks
    def least_middle(worst: bool) -> float | None:
        if depth is None:
            return None
        return nearest_enough(
            lambda d: _bears(layout, {MIDDLE: d}, worst), depth.middle, depth.middle + DEEPER, DEEPER / PARTS
        )

    @cache
    def least_less(worst: bool) -> float | None:
        most = slot - RANGES[SLOT].low
        if most <= 0:
            return None
        return nearest_enough(lambda by: _bears(layout, {SLOT: slot - by}, worst), 0.0, most, most / PARTS)

    def ways(aim: Aim) -> Remedy | None:
        worst = aim.spare > 0
        middle, less = least_middle(worst), least_less(worst)
        force = rod.force_high if worst else rod.likely.force
        bears = strength.neck.parallel * LOAD_DURATION * (1 - SPREAD_COMPRESSION if worst else 1.0)
        return any_of(
            None if middle is None else possible(layout.design, {MIDDLE: aim.up(MIDDLE, middle)}),
            possible(layout.design, _wider(layout, rod.faces, force / bears, aim)),
            None if less is None else possible(layout.design, {SLOT: aim.down(SLOT, slot - less)}),
        )

    return graded(layout.design, ways, 1.0)


def _bears(layout: Layout, settings: dict[str, float], worst: bool) -> bool:
    new = layout_with(layout.design, settings)
    if new is None:
        return False
    try:
        spares = bearing_spares(estimate(new))
    except DesignError:  # the changed neck cannot have given that reading
        return False
    return spares is not None and spares[worst] >= 1.0 - SLACK


def _wider(layout: Layout, faces: tuple[Face, ...], need: float, aim: Aim) -> dict[str, float]:
    """Washer and anchor, each as large as it must be to have this much wood behind it, mm2; nothing where no size is
    enough."""
    sizes: dict[str, float] = {}
    for face in faces:
        if face.area < need:
            size = _size(layout, face, need, aim)
            if size is None:
                return {}
            sizes[face.key] = size
    return sizes


def _size(layout: Layout, face: Face, need: float, aim: Aim) -> float | None:
    """The least size of a face with this much wood behind it, mm; None where no size up to LARGEST has it."""

    def enough(size: float) -> bool:
        area = next(f.area for f in bearing_faces(layout, {face.key: size}) if f.name == face.name)
        return area >= need

    least = nearest_enough(enough, face.size, face.size * LARGEST, face.size * (LARGEST - 1) / PARTS)
    if least is None:
        return None
    size = aim.up(face.key, least)
    return size if enough(size) else None
