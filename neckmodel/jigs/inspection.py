"""Measures a finished jig: every piece as it prints, the joints between pieces, and the kind's own checks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import manifold3d
import trimesh

from neckmodel.design.tables.workshop import Printer
from neckmodel.findings import VERDICTS, WARN, Finding, Findings, PartFact, yes_no_finding
from neckmodel.geometry.types import Point3
from neckmodel.jigs.letters import whole_label
from neckmodel.jigs.make import corner
from neckmodel.jigs.printing import MOST, SIZING, contact_area, least_features, overhang
from neckmodel.jigs.types import Jig, Printed
from neckmodel.limits import BED_MARGIN, LEAST_CONTACT, MOST_BRIDGE, PARTING_SHARE
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import is_sound, volume

FINE = 0.02  # mm, of the meshes that are measured
TOUCH = 0.5  # mm3 that two meshes share along faces that touch; exact faces share none, round ones less than this


def inspect_jig(jig: Jig) -> Findings:
    """All findings of a jig, worst first."""
    on_beds = [_on_bed(piece) for piece in jig.printed]
    found = [*_pieces(jig, on_beds), *_labels(jig), *_joints(jig), *_own(jig)]
    found.sort(key=lambda f: VERDICTS.index(f.verdict))
    return Findings(jig.name, tuple(found), tuple(_fact(one) for one in on_beds))


@dataclass(frozen=True)
class PieceOnBed:
    """A piece on its bed, measured once. sound: whether the kernel finds no fault in it; tight: whether its mesh is
    closed."""

    piece: Printed
    mesh: trimesh.Trimesh
    low: Point3
    high: Point3
    sound: bool
    tight: bool


def _on_bed(piece: Printed) -> PieceOnBed:
    mesh = mesh_of(piece.part.solid, FINE)
    tight = bool(mesh.is_watertight and mesh.is_winding_consistent)
    return PieceOnBed(piece, mesh, *corner(piece.part.solid), is_sound(piece.part.solid), tight)


def _pieces(jig: Jig, on_beds: list[PieceOnBed]) -> Iterator[Finding]:
    """Whether each piece is a solid that the printer can print as it lies."""
    printer = jig.layout.design.workshop.printer
    for one in on_beds:
        yield _solid(one)
        yield _bed(one, printer, jig.beds)
        yield _flat(one)
        yield _overhang(one, printer)
        yield _feature(one, printer)


def _solid(one: PieceOnBed) -> Finding:
    tight = one.sound and one.tight
    return yes_no_finding(
        check="jig/solid",
        part=one.piece.part.name,
        good=tight,
        says="one closed solid" if tight else "its skin does not close",
    )


def _bed(one: PieceOnBed, printer: Printer, beds: int) -> Finding:
    """The piece within the printer's bed and height, and flat down on it."""
    (x0, y0, z0), (x1, y1, z1) = one.low, one.high
    room = min(
        x0 - BED_MARGIN,
        y0 - BED_MARGIN,
        printer.bed[0] - BED_MARGIN - x1,
        printer.bed[1] - BED_MARGIN - y1,
        printer.bed[2] - z1,
    )
    return yes_no_finding(
        check="jig/bed",
        part=one.piece.part.name,
        good=room >= -1e-6 and abs(z0) < 1e-6,
        says=f"{x1 - x0:.1f} x {y1 - y0:.1f} x {z1:.1f} mm, on bed {one.piece.bed} of {beds}",
        measured=room + BED_MARGIN,
        limit=BED_MARGIN,
        basis="workshop.printer.bed; a margin along its edges by common practice, no source",
    )


def _flat(one: PieceOnBed) -> Finding:
    area = contact_area(one.mesh)
    return yes_no_finding(
        check="jig/flat",
        part=one.piece.part.name,
        good=area >= LEAST_CONTACT,
        says=f"{area:.0f} mm2 of it lie flat on the bed",
        measured=area,
        limit=LEAST_CONTACT,
        unit="mm2",
        basis="common practice, no source",
    )


def _overhang(one: PieceOnBed, printer: Printer) -> Finding:
    hanging = overhang(one.mesh)
    held = hanging.steepest <= printer.overhang + 1e-6 and hanging.bridge <= MOST_BRIDGE
    return yes_no_finding(
        check="jig/overhang",
        part=one.piece.part.name,
        good=held,
        says=f"steepest overhang {hanging.steepest:.1f} degrees from the vertical; widest level ceiling "
        f"{hanging.bridge:.1f} mm, bridged from wall to wall",
        measured=hanging.steepest,
        limit=printer.overhang,
        held=(None, printer.overhang),
        unit="degrees",
        basis=f"workshop.printer.overhang; a bridge up to {MOST_BRIDGE:g} mm by common practice, no source",
        more={"bridge": hanging.bridge, "bridge_limit": MOST_BRIDGE},
    )


def _feature(one: PieceOnBed, printer: Printer) -> Finding:
    """The thinnest wall and the narrowest slot against what the nozzle can lay."""
    least = 2 * printer.nozzle
    wall, slot = (_sized(size, least) for size in least_features(one.mesh))
    return yes_no_finding(
        check="jig/feature",
        part=one.piece.part.name,
        good=min(wall, slot) >= least,
        says=f"its thinnest wall is {_at_least(wall)}, its narrowest slot {_at_least(slot)}",
        measured=min(wall, slot),
        error=SIZING,
        limit=least,
        basis="two widths of workshop.printer.nozzle; common practice, no source",
        more={"wall": wall, "slot": slot},
    )


def _labels(jig: Jig) -> Iterator[Finding]:
    for piece in jig.draft.pieces:
        words = (jig.name, jig.kind, *piece.label.words)
        whole = whole_label(words, piece.label.width, piece.label.height)
        yield yes_no_finding(
            check="jig/label",
            part=f"jig-{jig.kind}-{piece.name}",
            good=whole,
            otherwise=WARN,
            says=f"its label says: {', '.join(words)}" if whole else "too small for its whole label; mark it by hand",
        )


def _joints(jig: Jig) -> Iterator[Finding]:
    """Pieces put together: none may enter another, and nothing may be missing except the joints' own clearance."""
    solids = {piece.name: piece.solid for piece in jig.draft.pieces}
    names = list(solids)
    bodies = {name: to_manifold(mesh_of(solids[name], FINE), name) for name in names}
    pairs = [(a, b) for k, a in enumerate(names) for b in names[k + 1 :]]
    together = {frozenset(whole.pieces): whole for whole in jig.draft.wholes}
    for whole in together.values():
        own = [bodies[name] for name in whole.pieces]
        shared = max(
            ((bodies[a] ^ bodies[b]).volume() for a, b in pairs if a in whole.pieces and b in whole.pieces), default=0.0
        )
        total = sum(volume(solids[name]) for name in whole.pieces) + whole.clearance
        meant = volume(whole.solid)
        off = abs(total / meant - 1)
        fit = jig.layout.design.workshop.printer.fit_per_side
        gap = _widest_gap(to_manifold(mesh_of(whole.solid, FINE), whole.name), own)
        good = shared <= TOUCH and off <= PARTING_SHARE and gap <= fit + 0.02
        yield yes_no_finding(
            check="jig/joints",
            part=f"jig-{jig.kind}-{whole.name}",
            good=good,
            says=f"{len(whole.pieces)} pieces share {shared:.3f} mm3; with {whole.clearance:.1f} mm3 of fit round the "
            f"keys they make up the whole to {100 * off:.4f} %; no gap is wider than {gap:.2f} mm",
            measured=gap,
            error=0.02,
            limit=fit,
            held=(None, fit),
            basis="workshop.printer.fit_per_side",
            more={"shared": shared, "volume_off": off, "clearance": whole.clearance},
        )


def _widest_gap(whole: manifold3d.Manifold, pieces: list[manifold3d.Manifold]) -> float:
    """Widest gap between pieces, mm: for each region left over, twice its volume over its surface, as for a thin
    sheet."""
    rest = whole
    for piece in pieces:
        rest = rest - piece
    sizes = [2 * part.volume() / part.surface_area() for part in rest.decompose() if part.volume() > 1e-3]
    return max(sizes, default=0.0)


def _own(jig: Jig) -> Iterator[Finding]:
    for check in jig.draft.checks:
        yield from check()


def _fact(one: PieceOnBed) -> PartFact:
    part = one.piece.part
    return PartFact(part.name, volume(part.solid), (*one.low, *one.high), 1, one.sound, one.tight)


def _sized(size: float, least: float) -> float:
    """A wall or slot as measured, which may read up to SIZING less than it is, mm; the limit itself where it may be
    just that."""
    return least if least - SIZING <= size < least else size


def _at_least(size: float) -> str:
    return f"{size:.2f} mm" if size < MOST else f"{MOST:.2f} mm or more"
