"""Jigs made and measured once for all tests that look at the same one."""

from __future__ import annotations

import atexit
import hashlib
import math
import tempfile
from functools import cache
from pathlib import Path

import numpy as np
from neck_runs import laid_out
from spares import agrees

from neckmodel.findings import Findings
from neckmodel.jigs import Jig, inspect, kind_named, make_jig
from neckmodel.jigs.split import FLANK, REACH, ROOT
from neckmodel.jigs.types import Draft
from neckmodel.meshes import mesh_of
from neckmodel.writers.folders.jig import write_jig


def key_area(grown: float = 0.0) -> float:
    """Area in plan, mm2, of a joint's key, a trapezium, with a fit of so many mm all round."""
    slope = math.tan(math.radians(FLANK))
    reach, root = REACH + grown, ROOT + 2 * grown / math.cos(math.radians(FLANK))
    return reach * (root + reach * slope)


@cache
def made(preset: str, kind: str, *overrides: str) -> Jig:
    return make_jig(laid_out(preset, *overrides), kind)


@cache
def drafted(preset: str, kind: str, *overrides: str) -> Draft:
    """The bare pieces only: no labels, not laid on beds."""
    layout, chosen = laid_out(preset, *overrides), kind_named(kind)
    chosen.refuse(layout)
    return chosen.draft(layout)


@cache
def inspected(preset: str, kind: str, *overrides: str) -> Findings:
    found = inspect(made(preset, kind, *overrides))
    assert [f"{f.check} {f.part}: {f.measured} against {f.held or f.limit}" for f in found if not agrees(f)] == []
    return found


CASE = ("redpoll", "screw-guide")


@cache
def written() -> Path:
    """CASE's folder, written once and gone with this process. Tests of what is in it only read it."""
    place = tempfile.TemporaryDirectory(prefix="jig-")
    atexit.register(place.cleanup)
    folder = Path(place.name) / "jig"
    write_jig(made(*CASE), inspected(*CASE), folder)
    return folder


def hashes(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.iterdir()}


@cache
def facets(preset: str, kind: str, *overrides: str) -> dict[str, np.ndarray]:
    """(m, 3, 3) corners of each piece's triangles as it lies on its bed, mm."""
    found = {}
    for piece in made(preset, kind, *overrides).printed:
        mesh = mesh_of(piece.part.solid, 0.02)
        found[piece.part.name] = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
    return found
