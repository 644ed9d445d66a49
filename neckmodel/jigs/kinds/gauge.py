"""Contour gauges for the carved back: one plate for each fret. Its edge is the finished section there, its tips lie on
the glue line."""

from __future__ import annotations

import math

import numpy as np

from neckmodel.findings import Finding, Place, yes_no_finding
from neckmodel.geometry.types import Point
from neckmodel.jigs.letters import whole_label
from neckmodel.jigs.shaping import across, cylinder_along
from neckmodel.jigs.types import ON_ITS_SIDE, Bare, Draft, JigError, Label
from neckmodel.layout import Layout
from neckmodel.layout.neck.section import Section
from neckmodel.limits import CONTOUR_OFF
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut

# mm; common practice, no source
CHOSEN = (1, 3, 5, 7, 9, 12, 15, 17, 19)  # frets, those on the plain shaft
PLATE = 3.0  # thickness
LEG, LEAST_UNDER, MOST_UNDER = 12.0, 20.0, 60.0  # beside the neck; under its back, as far as the label needs
RING = 4.5  # hole by which the gauges hang together as a fan
CHORD = 0.005  # by which the polygon may differ from the section
NOTCH = 1.0  # half width and depth of the mark at the deepest line, cut into the plate's outer edge


def refuse(layout: Layout) -> None:
    """Raises JigError where no fret lies on the plain shaft."""
    if not frets(layout):
        raise JigError("contour-gauge: no fret lies on the shaft between the nut and the swell of the heel")


def frets(layout: Layout) -> tuple[int, ...]:
    """The frets at which the section is exactly the back's: clear of a volute and of the heel's swell."""
    volute = layout.head.volute
    start = 0.0 if volute is None else volute.x_end
    shaft = (f for f in layout.frets.frets if start <= f.x <= layout.heel.x_swell + 1e-6)
    return tuple(fret.number for fret in shaft if fret.number in CHOSEN)


def draft(layout: Layout) -> Draft:
    """A gauge for each fret."""
    chosen = frets(layout)
    pieces = tuple(_gauge(layout, fret) for fret in chosen)

    def check() -> list[Finding]:
        return [_contour(layout, fret, piece) for fret, piece in zip(chosen, pieces, strict=True)]

    return Draft(
        pieces,
        (),
        (check,),
        (
            "Hold a gauge square to the centre line at its fret, against a light: its tips are level with the glue "
            "plane, the notch in its outer edge is at the deepest line.",
            "The number behind T is the thickness there with the fretboard, frets not counted.",
        ),
    )


def profile(section: Section) -> list[Point]:
    """(y, z) of the section from the bass edge to the treble edge, mm, chords within CHORD of it."""
    count = 25
    while True:
        t = np.linspace(0.0, math.pi, count)
        points, middles = section.at(t), section.at((t[:-1] + t[1:]) / 2)
        chord = points[1:] - points[:-1]
        away = middles - points[:-1]
        off = np.abs(chord[:, 0] * away[:, 1] - chord[:, 1] * away[:, 0]) / np.linalg.norm(chord, axis=1)
        if off.max() <= CHORD or count > 400:
            return [(float(y), float(z)) for y, z in points]
        count = 2 * count - 1


def _gauge(layout: Layout, fret: int) -> Bare:
    x = layout.frets.x(fret)
    section = layout.back.section(x)
    thick = layout.back.thickness(x)
    half, words = section.half_width + LEG, (f"fret {fret}", f"T{thick:.2f}", "body side", "up")
    under = LEAST_UNDER
    while under < MOST_UNDER and not whole_label((layout.name, "contour-gauge", *words), 2 * half - LEG, under - NOTCH):
        under += 1.0
    bottom = -section.depth - under
    middle = section.middle
    apex, right, left = middle + section.apex, middle + half, middle - half
    outline = [(right, 0.0), (right, bottom), (apex + NOTCH, bottom), (apex, bottom + NOTCH), (apex - NOTCH, bottom)]
    outline += [(left, bottom), (left, 0.0), *profile(section)]
    plate = across(outline, x - PLATE / 2, x + PLATE / 2, f"gauge {fret}")
    ring = cylinder_along((x - PLATE, right - LEG / 2, bottom + LEG / 2), RING / 2, 2 * PLATE)
    solid = cut(plate, [ring], f"gauge {fret}")
    label = Label(
        words,
        (x + PLATE / 2, middle - LEG / 2, bottom + NOTCH + (under - NOTCH) / 2),
        (0.0, 1.0, 0.0),
        (0.0, 0.0, 1.0),
        2 * half - LEG,
        under - NOTCH,
    )
    return Bare(f"fret-{fret}", f"section at fret {fret}, {thick:.2f} mm thick", solid, ON_ITS_SIDE, label)


def _contour(layout: Layout, fret: int, piece: Bare) -> Finding:
    """Compares the plate's edge, as meshed, with points of the section between those it was made from."""
    from shapely.geometry import LineString
    from shapely.geometry import Point as At

    x = layout.frets.x(fret)
    section = layout.back.section(x)
    turned = to_manifold(mesh_of(piece.solid, 0.002), piece.name).transform(
        np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]])
    )
    rings = [np.asarray(ring) for ring in turned.slice(x).to_polygons()]
    edges = [LineString(np.vstack([ring, ring[:1]])) for ring in rings]
    law = section.at(np.linspace(1e-3, math.pi - 1e-3, 1777))
    off = max(min(edge.distance(At(*at)) for edge in edges) for at in law)
    good = off <= CONTOUR_OFF
    return yes_no_finding(
        check="jig/contour",
        part=f"jig-contour-gauge-{piece.name}",
        good=good,
        says=f"its edge follows the back at fret {fret} to {off:.4f} mm",
        measured=off,
        limit=CONTOUR_OFF,
        held=(None, CONTOUR_OFF),
        basis="the law of the back's section",
        at=Place(x, 0.0, -section.depth, fret),
    )
