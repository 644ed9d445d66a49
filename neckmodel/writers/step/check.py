"""Compares a STEP file with the solids it was written from: first as text, then read by the kernel."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from pathlib import Path

import cadquery as cq

from neckmodel.errors import ExportError, MeshError
from neckmodel.meshes import mesh_of
from neckmodel.solids.kernel.facts import Measured, facts_of
from neckmodel.writers.setups import Bounds, Placement
from neckmodel.writers.step import kernel, part21
from neckmodel.writers.step.kernel import Body
from neckmodel.writers.step.terms import SCHEMAS, UNITS

VOLUME_RELATIVE, CENTRE_MM = 1e-5, 1e-3  # the kernel's integrals over trimmed free surfaces are no better than that
FINE = (0.01, 0.2)  # mm and rad, of the meshes that decide where the kernel's integrals differ
MESH_RELATIVE, MESH_MM = 5e-5, 5e-3  # what two such meshes of one solid may differ by: volume, and its centre
PLACE_MM = 1e-4  # of the corners
EDGES_MM = 1e-3  # of all edges, end to end
BOX_MM = 1e-3  # of the box, which free edges that the kernel follows by approximation bound
COLOUR = 0.004  # one step of 255


def problems(
    path: Path, meant: Sequence[Body], placement: Placement, heading: kernel.Heading, schema: str, unit: str
) -> list[str]:
    """Every difference between the file and the solids; empty when there is none.

    meant: the bodies in the layout's frame. placement: how they should lie in the file; the box is compared with the
    placement's own arithmetic, not with the kernel's.
    """
    try:
        file = part21.parse(path.read_text(encoding="ascii"))
        roots, bodies = kernel.read(path)
    except (ExportError, UnicodeDecodeError) as error:
        return [str(error)]
    found = _text_problems(file, meant, heading, schema, unit)
    off = _off(_vertex_box(meant, placement), file.vertex_box())
    if off > PLACE_MM:
        found.append(f"corners off by {off:.4f} mm")
    if roots != [heading.title]:
        found.append(f"assembly is called {roots}")
    names = [body.name for body in bodies]
    if names != [body.name for body in meant]:
        return [*found, f"parts are {names}"]
    for original, body in zip(meant, bodies, strict=True):
        found += [f"{body.name}: {says}" for says in _body_problems(original, body, placement)]
    return found


def _text_problems(
    file: part21.Part21, meant: Sequence[Body], heading: kernel.Heading, schema: str, unit: str
) -> list[str]:
    found = []
    if file.header["FILE_DESCRIPTION"][:-1] != heading.description:
        found.append(f"header says {file.header['FILE_DESCRIPTION'][:-1]}")
    if not file.header["FILE_SCHEMA"][0].startswith(SCHEMAS[schema].file):
        found.append(f"schema is {file.header['FILE_SCHEMA'][0]}")
    if file.mm_per_unit() != UNITS[unit].mm:
        found.append(f"unit is {file.mm_per_unit()} mm")
    if sorted(file.product_names()) != sorted([heading.title, *(body.name for body in meant)]):
        found.append(f"products are {file.product_names()}")
    return found


def _body_problems(meant: Body, body: Body, placement: Placement) -> list[str]:
    solids = body.shape.Solids()
    if len(solids) != 1:
        return [f"{len(solids)} solids"]
    wanted, there, found = meant.facts, facts_of(solids[0]), []
    if not (
        there.valid and wanted.valid
    ):  # the kernel repairs much while reading, so the file alone would hide a fault
        found.append("not valid")
    away = _volume_problems(wanted.volume, there.volume, placement)
    if away:  # sometimes the integral itself is off by up to 5e-5, and differently each time
        with contextlib.suppress(MeshError):  # then the integrals decide
            away = _volume_problems(_by_mesh(meant.shape), _by_mesh(solids[0]), placement, MESH_RELATIVE, MESH_MM)
    found += away
    off = abs(wanted.edges - there.edges)
    if off > EDGES_MM:
        found.append(f"edges longer or shorter by {off:.4f} mm in all")
    off = _off(placement.bounds(wanted.box), there.box)
    if off > BOX_MM:
        found.append(f"bounds off by {off:.4f} mm")
    if there.faces != wanted.faces:
        found.append(f"faces {dict(there.faces)} instead of {dict(wanted.faces)}")
    if (body.colour is None) != (meant.colour is None) or (
        body.colour
        and meant.colour
        and max(abs(one - other) for one, other in zip(body.colour, meant.colour, strict=True)) > COLOUR
    ):
        found.append(f"colour {body.colour} instead of {meant.colour}")
    return found


def _volume_problems(
    meant: Measured, found: Measured, placement: Placement, share: float = VOLUME_RELATIVE, place: float = CENTRE_MM
) -> list[str]:
    (wanted, centre), (size, there) = meant, found
    says = []
    if abs(size - wanted) > share * wanted:
        says.append(f"volume {size:.3f} instead of {wanted:.3f} mm3")
    off = _off(placement.point(centre), there)
    if off > place:
        says.append(f"centre of volume off by {off:.4f} mm")
    return says


def _by_mesh(shape: cq.Shape) -> Measured:
    mesh = mesh_of(shape, *FINE)
    x, y, z = map(float, mesh.center_mass)
    return float(mesh.volume), (x, y, z)


def _vertex_box(meant: Sequence[Body], placement: Placement) -> Bounds:
    """The box of all vertices as placed, to compare with the numbers in the file."""
    points = [vertex.toTuple() for body in meant for vertex in body.shape.Vertices()]
    x, y, z = zip(*points, strict=True)
    return placement.bounds((min(x), min(y), min(z), max(x), max(y), max(z)))


def _off(one: Sequence[float], other: Sequence[float]) -> float:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
