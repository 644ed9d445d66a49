"""STL, binary: one file for each part that is made, mm."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from neckmodel.errors import ExportError
from neckmodel.writers.base import PRINTING, Job, Target, refuse

if TYPE_CHECKING:
    import numpy as np
    import trimesh

HEADER = 80  # bytes, then a count of 4 bytes, then 50 bytes a triangle
VOLUME_RELATIVE = 1e-5  # coordinates are single precision: 3e-5 mm at 700 mm


@dataclass(frozen=True)
class StlWriter:
    """STL: one file for each part that is made."""

    name: str = "stl"
    suffix: str = ".stl"
    says: str = "closed triangle meshes for printing, a file for each part"

    def targets(self, job: Job) -> tuple[Target, ...]:
        """One file for each part that is made."""
        return tuple(
            Target(f"{job.stem}-{part.name}.stl", (part.name,), f"{job.design} {part.name}", deflection=PRINTING)
            for part in job.bodies.chosen("wood", "stock", "jig")
        )

    def write(self, job: Job, target: Target, path: Path) -> None:
        """Writes the file."""
        path.write_bytes(stl_bytes(job.bodies.mesh(target.parts[0], target.deflection or PRINTING), _header(job)))

    def verify(self, job: Job, target: Target, path: Path) -> None:
        """Compares the bytes, and reads the mesh again: it must be closed and of the right volume."""
        import trimesh

        meant = job.bodies.mesh(target.parts[0], target.deflection or PRINTING)
        if path.read_bytes() != stl_bytes(meant, _header(job)):
            refuse(path, ["not the bytes that were written"])
        found = trimesh.load_mesh(
            path, file_type="stl"
        )  # joins equal corners, for the format holds only loose triangles
        problems = [] if found.is_watertight and found.is_winding_consistent else ["mesh is not closed"]
        if abs(found.volume - meant.volume) > VOLUME_RELATIVE * meant.volume:
            problems.append(f"volume {found.volume:.3f} instead of {meant.volume:.3f} mm3")
        refuse(path, problems)


def stl_bytes(mesh: trimesh.Trimesh, header: str) -> bytes:
    """A binary STL file; normals from the written (single precision) corners. Raises ExportError for a bad header.

    The header may not begin with "solid", which marks the text form, and holds at most 80 bytes.
    """
    import numpy as np

    if header.startswith("solid") or len(header.encode()) > HEADER:
        raise ExportError(f"STL: {header!r} cannot be a header")
    corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)].astype("<f4")
    records = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    records["corners"] = corners
    records["normal"] = _normals(corners.astype(float))
    return header.encode().ljust(HEADER) + struct.pack("<I", len(corners)) + records.tobytes()


def _normals(corners: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """(n, 3, 3) -> (n, 3) unit normals; zero where rounding left no area."""
    import numpy as np

    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(normals, axis=1, keepdims=True)
    return np.asarray(np.divide(normals, length, out=np.zeros_like(normals), where=length > 0))


def _header(job: Job) -> str:
    return "; ".join(text for text in ("neckmodel", "unit mm", job.remark) if text)
