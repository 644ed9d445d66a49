"""What every writer shares: its job, the files it will write, and the calls it must answer."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from neckmodel.errors import ExportError
from neckmodel.findings import Findings
from neckmodel.writers.setups import Bounds

if TYPE_CHECKING:
    import trimesh

    from neckmodel.sheets.marks.display import Sheet
    from neckmodel.solids.kernel.facts import Facts
    from neckmodel.solids.parts import Part

DESPITE = "EXPORTED DESPITE FAILED CHECKS"
"""Said inside every file of a design that was exported although a check fails."""


@dataclass(frozen=True)
class Deflection:
    """How far a mesh may stray from its solid: `linear` mm, and `angular` radians between neighbouring facets."""

    linear: float
    angular: float


# A printed layer is 0.1 to 0.3 mm high and a carve is held to about 0.1 mm (common practice, no source), so 0.05 mm is
# half of the finest of them. Measured on a carved neck: 13,000 triangles in 0.3 s; 0.02 mm and 0.1 rad would give
# 39,000 in 1.2 s for a gain that no printer shows. What needs the exact surface reads the STEP files.
PRINTING = Deflection(0.05, 0.2)
# For viewing: 6,000 triangles for a carved neck, which a browser turns without effort.
VIEWING = Deflection(0.1, 0.3)


class Bodies:
    """The parts that files are written of, in order. Not frozen: what is measured on a part, and its meshes, are made
    when a file first asks for them, and kept for the files after it."""

    def __init__(self, parts: Iterable[Part]) -> None:
        self.parts = tuple(parts)
        self._boxes: dict[str, Bounds] = {}
        self._facts: dict[str, Facts] = {}
        self._meshes: dict[tuple[str, Deflection], trimesh.Trimesh] = {}

    def part(self, name: str) -> Part:
        """The part of this name. Raises KeyError where there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    def chosen(self, *kinds: str) -> tuple[Part, ...]:
        """The parts of these kinds, in order."""
        return tuple(part for part in self.parts if part.kind in kinds)

    def box(self, name: str) -> Bounds:
        """The part's exact box (xmin, ymin, zmin, xmax, ymax, zmax), mm."""
        if name not in self._boxes:
            from neckmodel.solids.kernel.box import box

            self._boxes[name] = box(self.part(name).solid)
        return self._boxes[name]

    def facts(self, name: str) -> Facts:
        """What is measured on the part to compare it with the one in a file; once for all files that it goes into."""
        if name not in self._facts:
            from neckmodel.solids.kernel.facts import facts_of

            self._facts[name] = facts_of(self.part(name).solid, self.box(name))
        return self._facts[name]

    def mesh(self, name: str, deflection: Deflection) -> trimesh.Trimesh:
        """The part's closed mesh, mm; made once per deflection. Raises ExportError where it is not the part's."""
        key = (name, deflection)
        if key not in self._meshes:
            from neckmodel.meshes import mesh_of

            mesh = mesh_of(self.part(name).solid, deflection.linear, deflection.angular)
            _check_mesh(self.part(name), self.box(name), mesh, deflection)
            self._meshes[key] = mesh
        return self._meshes[key]


@dataclass(frozen=True)
class Form:
    """The form in which parts are handed to CAM. schema: "AP203", "AP214" or "AP242", of the STEP files. unit: "mm" or
    "inch", of the STEP and DXF files. setup: how the parts lie in the STEP files (see setups)."""

    schema: str = "AP214"
    unit: str = "mm"
    setup: str = "glue-up"


@dataclass(frozen=True)
class Job:
    """Everything a writer may use, as data.

    layout: the layout as JSON data. design_text: the design file's text. sheets: drawings that go with the parts. page:
    the text of a report that goes with them, or "".
    """

    bodies: Bodies
    findings: Findings
    layout: Mapping[str, object]
    design_text: str
    form: Form = Form()
    sheets: tuple[Sheet, ...] = ()
    page: str = ""

    @property
    def design(self) -> str:
        """The design's name, as it stands in every file."""
        return " ".join(self.findings.name.split())

    @property
    def stem(self) -> str:
        """The design's name as the start of a file name."""
        return file_stem(self.design)

    @property
    def unit(self) -> str:
        """The unit of the STEP and DXF files."""
        return self.form.unit

    @property
    def failed(self) -> tuple[str, ...]:
        """The names of the failed checks, worst first, each once."""
        return self.findings.failed

    @property
    def remark(self) -> str:
        """What every file must say about the verdict; empty when all checks pass."""
        return DESPITE if self.failed else ""


@dataclass(frozen=True)
class Target:
    """One file that a writer will write.

    file: its name in the folder. parts: those inside, in order. title: what the file calls itself. setup: how the part
    lies in a file for CAM; deflection: of its meshes; each None where the file has no such thing.
    """

    file: str
    parts: tuple[str, ...] = ()
    title: str = ""
    setup: str | None = None
    deflection: Deflection | None = None


class Writer(Protocol):
    """A file format. `name` is what a maker asks for, `suffix` ends its file names, `says` is a line about it."""

    @property
    def name(self) -> str:
        """What a maker asks for."""

    @property
    def suffix(self) -> str:
        """The end of its file names."""

    @property
    def says(self) -> str:
        """A line about it."""

    def targets(self, job: Job) -> tuple[Target, ...]:
        """The files that this format writes for the job."""

    def write(self, job: Job, target: Target, path: Path) -> None:
        """Writes one of them to `path`, replacing an earlier file."""

    def verify(self, job: Job, target: Target, path: Path) -> None:
        """Reads the file again and compares it with the job; raises ExportError on any difference."""


def _check_mesh(part: Part, box: Bounds, mesh: trimesh.Trimesh, deflection: Deflection) -> None:
    """A mesh is closed, faces outward, and is as large as its solid, within what its deflection allows."""
    from neckmodel.solids.kernel.gate import volume

    if not (mesh.is_watertight and mesh.is_winding_consistent and mesh.volume > 0):
        raise ExportError(f"{part.name}: its mesh is not a closed body with outward faces")
    corners = (*mesh.bounds[0], *mesh.bounds[1])
    off = max(abs(one - other) for one, other in zip(corners, box, strict=True))
    if off > deflection.linear:
        raise ExportError(f"{part.name}: its mesh is {off:.3f} mm larger or smaller than the solid")
    wanted, allowed = volume(part.solid), deflection.linear * mesh.area
    if abs(mesh.volume - wanted) > allowed:
        raise ExportError(f"{part.name}: its mesh has {mesh.volume:.1f} mm3, the solid {wanted:.1f} mm3")


def titled(title: str, job: Job) -> str:
    """The title, with the remark behind it where a check failed."""
    return f"{title} - {job.remark}" if job.remark else title


def refuse(path: Path, problems: list[str]) -> None:
    """Raises ExportError if there are problems; the text names the file and at most five of them."""
    if problems:
        more = f"; and {len(problems) - 5} more" if len(problems) > 5 else ""
        raise ExportError(f"{path.name}: read back differently: {'; '.join(problems[:5])}{more}")


def file_stem(name: str) -> str:
    """A design's name as the start of a file name: ASCII letters, digits, "-", "_" and "."; never empty or hidden."""
    plain = unicodedata.normalize("NFKD", name.replace("ß", "ss")).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9._-]+", "-", plain).strip("-._")[:80] or "neck"
