"""A clamping caul for the fretboard. Its face is the crown, cylinder or cone, with grooves that clear the frets."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from neckmodel.findings import Finding, yes_no_finding
from neckmodel.geometry.types import Point
from neckmodel.jigs.shaping import prism
from neckmodel.jigs.split import REACH, WIDEST, Joint, clearance, joint_places, split
from neckmodel.jigs.types import UPSIDE_DOWN, Bare, Draft, JigError, Label, Whole
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side
from neckmodel.layout.strings.frets import Fret
from neckmodel.limits import CROWN_OFF
from neckmodel.meshes import mesh_of
from neckmodel.solids.fretboard import fretboard_solid
from neckmodel.solids.kernel.gate import cut

# isort: split
import cadquery as cq

# mm; common practice, no source
HEIGHT = 18.0  # over the crown's middle
PAST = 2.0  # by which the caul reaches past the fretboard's edges, and stays short of its ends
GROOVE, OVER_FRET = 3.6, 0.5  # width of a fret's groove; gap over the fret's top
BESIDE = 1.0  # kept between a groove and a joint
WIDER = 10.0  # by which the cutting solid is wider than the fretboard
FINE = 0.01  # deflection of the mesh measured


def refuse(layout: Layout) -> None:
    """Raises JigError where the fretboard is one piece with the neck, for nothing is glued on."""
    if layout.in_one:
        raise JigError("caul: neck and fretboard are one piece: there is no fretboard to clamp")


def draft(layout: Layout) -> Draft:
    """The caul in pieces as long as the bed."""
    fit = layout.design.workshop.printer.fit_per_side
    whole = _whole(layout)
    joints = _joints(layout)
    cuts = split(whole, joints, fit, "caul")
    pieces = tuple(
        Bare(
            one.name,
            f"piece {one.name} of {len(cuts)}, from the nut",
            one.solid,
            UPSIDE_DOWN,
            _label(layout, joints, one.number - 1),
        )
        for one in cuts
    )
    wholes = (Whole("whole", whole, tuple(p.name for p in pieces), clearance(whole, joints, fit, "joints' fit")),)

    def check() -> list[Finding]:
        """Findings on the caul's face."""
        return _face(layout, pieces)

    return Draft(
        pieces,
        wholes if joints else (),
        (check,),
        (
            "Line the face with paper or cork of even thickness; spread the clamps' pressure along the flat top.",
            *(
                ()
                if layout.fretless
                else (
                    f"The grooves clear frets up to {layout.design.fretboard.fret_height + OVER_FRET:.1f} mm high: it "
                    "serves before and after fretting.",
                )
            ),
        ),
    )


def x_range(layout: Layout) -> Point:
    """x from and to which the caul reaches, mm: inside the fretboard, whose ends may be slanted."""
    board = layout.fretboard
    return max(x for x, _ in board.start) + PAST, min(x for x, _ in board.end) - PAST


def frets(layout: Layout) -> tuple[Fret, ...]:
    """The frets under the caul; () on a fretless fretboard."""
    if layout.fretless:
        return ()
    x0, x1 = x_range(layout)
    board = layout.fretboard
    return tuple(f for f in layout.fretted if any(x0 < x < x1 for x, _ in board.line(f.x, f.slope)))


def _half(layout: Layout, x: float) -> float:
    return layout.fretboard.half_width(x) + PAST


def _whole(layout: Layout) -> cq.Solid:
    board, (x0, x1) = layout.fretboard, x_range(layout)
    top = board.thickness + HEIGHT
    xs = [x0, *(x for x, _ in board.edge(0) if x0 < x < x1), x1]
    plan = [(x, board.bass(x) - PAST) for x in xs]
    plan += [(x1, board.treble(x1) + PAST), (x0, board.treble(x0) + PAST)]
    under = fretboard_solid(replace(board, half_nut=board.half_nut + WIDER, slots=()))
    return cut(prism(plan, 0.1, top, "caul"), [under, *(_groove(layout, fret) for fret in frets(layout))], "caul")


def _groove(layout: Layout, fret: Fret) -> cq.Solid:
    board = layout.fretboard
    wide = replace(board, half_nut=board.half_nut + WIDER)
    half = GROOVE / 2 * (1 + fret.slope**2) ** 0.5
    (a, b), (c, d) = wide.line(fret.x - half, fret.slope), wide.line(fret.x + half, fret.slope)
    return prism([a, c, d, b], 0.0, board.thickness + layout.design.fretboard.fret_height + OVER_FRET, "groove")


def _joints(layout: Layout) -> tuple[Joint, ...]:
    bed, (x0, x1) = layout.design.workshop.printer.bed, x_range(layout)
    avoid = []
    for fret in frets(layout):
        ends = [x for x, _ in layout.fretboard.line(fret.x, fret.slope)]
        avoid.append((min(ends) - GROOVE / 2 - BESIDE, max(ends) + GROOVE / 2 + BESIDE))
    return tuple(Joint(x, _keys(_half(layout, x))) for x in joint_places(x0, x1, max(bed[0], bed[1]), avoid))


def _keys(half: float) -> tuple[float, ...]:
    """Two keys side by side where there is room for them, else one."""
    return (-half / 2, half / 2) if half >= WIDEST + 8.0 else (0.0,)


def _label(layout: Layout, joints: tuple[Joint, ...], k: int) -> Label:
    ends = [x_range(layout)[0], *(joint.x for joint in joints), x_range(layout)[1]]
    start, end = list(pairwise(ends))[k]
    start, end = start + (REACH + 2.0 if k > 0 else 0.0), end
    top = layout.fretboard.thickness + HEIGHT
    words = (f"{k + 1}/{len(joints) + 1}", Side.TREBLE, "up") if joints else (Side.TREBLE, "up")
    return Label(
        words,
        ((start + end) / 2, layout.fretboard.middle(start), top),
        (1.0, 0.0, 0.0),
        (0.0, 1.0, 0.0),
        end - start,
        2 * _half(layout, start),
    )


def _face(layout: Layout, pieces: tuple[Bare, ...]) -> list[Finding]:
    """Every facet that looks down: it lies on the crown, or over a fret with at least the intended gap."""
    board, air = layout.fretboard, layout.design.fretboard.fret_height + OVER_FRET
    off, least = 0.0, np.inf
    for piece in pieces:
        mesh = mesh_of(piece.solid, FINE)
        corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        down = normal[:, 2] < -0.5 * np.linalg.norm(normal, axis=1)
        for triangle in corners[down]:
            if (
                triangle[:, 2].min() > board.thickness + air - 1e-6
            ):  # the floor of a groove; the crown is highest in the middle
                least = min(least, float(triangle[:, 2].min()) - board.thickness - layout.design.fretboard.fret_height)
            else:
                points = (*triangle, triangle.mean(axis=0))
                off = max(off, *(abs(float(z) - board.top(float(x), float(y))) for x, y, z in points))
    good = off <= CROWN_OFF and least >= OVER_FRET - CROWN_OFF
    says, more = f"its face lies on the crown to {off:.4f} mm", {}
    if grooves := len(frets(layout)):
        says += f"; {grooves} grooves leave at least {least:.2f} mm over the frets"
        more = {"over_frets": float(least), "grooves": float(grooves)}
    return [
        yes_no_finding(
            check="jig/crown",
            part="jig-caul",
            good=good,
            says=says,
            measured=off,
            error=FINE,
            limit=CROWN_OFF,
            held=(None, CROWN_OFF),
            basis="the crown's law",
            more=more,
        )
    ]
