"""3MF by the format's reference library: all finished parts in one file, with names and colours, mm."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from neckmodel.errors import ExportError
from neckmodel.writers.base import PRINTING, Job, Target, refuse, titled
from neckmodel.writers.versions import PROGRAM

CORNER_MM = 2e-4  # the file holds decimals of single precision numbers, which are 6e-5 mm apart at 700 mm
SPACE = uuid.UUID("5f0c6f0a-7d0e-5b0e-9a37-3d6c1a0b7e21")
"""Identifiers are made from names under this one, so that the same design gives the same bytes."""


@dataclass(frozen=True)
class ThreeMfWriter:
    """3MF: all finished parts in one file, with names and colours."""

    name: str = "3mf"
    suffix: str = ".3mf"
    says: str = "closed triangle meshes for printing, all finished parts in one file, with names and colours"

    def targets(self, job: Job) -> tuple[Target, ...]:
        """Its one file."""
        return finished(job, self.suffix, PRINTING)

    def write(self, job: Job, target: Target, path: Path) -> None:
        """Writes the file."""
        import lib3mf
        import numpy as np

        model = lib3mf.Wrapper().CreateModel()
        model.SetUnit(lib3mf.ModelUnit.MilliMeter)
        model.SetBuildUUID(_uuid(job, "build"))
        about = model.GetMetaDataGroup()
        for key, value in (("Title", titled(target.title, job)), ("Application", PROGRAM)):
            about.AddMetaData("", key, value, "xs:string", True)
        materials = model.AddBaseMaterialGroup()
        for part in map(job.bodies.part, target.parts):
            mesh = job.bodies.mesh(part.name, PRINTING)
            corners = np.ascontiguousarray(mesh.vertices, dtype="<f4")
            faces = np.ascontiguousarray(mesh.faces, dtype="<u4")
            body = model.AddMeshObject()
            body.SetGeometry(
                (lib3mf.Position * len(corners)).from_buffer_copy(corners.tobytes()),
                (lib3mf.Triangle * len(faces)).from_buffer_copy(faces.tobytes()),
            )
            body.SetName(part.name)
            body.SetPartNumber(part.name)
            body.SetUUID(_uuid(job, part.name, "object"))
            red, green, blue = rgb255(part.colour)
            colour = lib3mf.Color(red, green, blue, 255)
            body.SetObjectLevelProperty(materials.GetResourceID(), materials.AddMaterial(part.name, colour))
            item = model.AddBuildItem(body, lib3mf.Wrapper().GetIdentityTransform())
            item.SetUUID(_uuid(job, part.name, "item"))
        try:
            model.QueryWriter("3mf").WriteToFile(str(path))
        except lib3mf.ELib3MFException as error:
            raise ExportError(f"{path.name}: cannot be written: {error}") from error

    def verify(self, job: Job, target: Target, path: Path) -> None:
        """Reads the file again through the reference library and compares parts, corners, names and colours."""
        import lib3mf

        model = lib3mf.Wrapper().CreateModel()
        reader = model.QueryReader("3mf")
        reader.SetStrictModeActive(True)
        reader.ReadFromFile(str(path))
        found = [str(reader.GetWarning(index)) for index in range(reader.GetWarningCount())]
        if model.GetUnit() != lib3mf.ModelUnit.MilliMeter:
            found.append("unit is not mm")
        title = model.GetMetaDataGroup().GetMetaDataByKey("", "Title")
        if title.GetValue() != titled(target.title, job):
            found.append(f"title is {title.GetValue()!r}")
        bodies = _bodies(model)
        if [body.GetName() for body in bodies] != list(target.parts):
            found.append(f"parts are {[body.GetName() for body in bodies]}")
        else:
            for body in bodies:
                found += [f"{body.GetName()}: {says}" for says in _body_problems(job, model, body)]
        refuse(path, found)


def finished(job: Job, suffix: str, deflection: Any) -> tuple[Target, ...]:
    """One file with every part but the stock, which would hide and overlap the parts cut from it."""
    parts = job.bodies.chosen("wood", "jig", "hardware") or job.bodies.parts
    names = tuple(part.name for part in parts)
    return (Target(f"{job.stem}{suffix}", names, job.design, deflection=deflection),)


def rgb255(colour: tuple[float, float, float]) -> tuple[int, int, int]:
    """sRGB from 0 to 1 as whole numbers to 255."""
    red, green, blue = (round(255 * value) for value in colour)
    return red, green, blue


def _uuid(job: Job, *names: str) -> str:
    return str(uuid.uuid5(SPACE, "/".join((job.design, *names))))


def _bodies(model: Any) -> list[Any]:
    """The mesh objects of the file, in the order in which they are placed."""
    items, bodies = model.GetBuildItems(), []
    while items.MoveNext():
        bodies.append(model.GetMeshObjectByID(items.GetCurrent().GetObjectResourceID()))
    return bodies


def _body_problems(job: Job, model: Any, body: Any) -> list[str]:
    import numpy as np

    name, found = body.GetName(), []
    mesh = job.bodies.mesh(name, PRINTING)
    corners = np.frombuffer(b"".join(map(bytes, body.GetVertices())), dtype="<f4").reshape(-1, 3)
    faces = np.frombuffer(b"".join(map(bytes, body.GetTriangleIndices())), dtype="<u4").reshape(-1, 3)
    if not body.IsManifoldAndOriented():
        found.append("mesh is not closed")
    if not np.array_equal(faces, mesh.faces) or not np.allclose(corners, mesh.vertices, rtol=0, atol=CORNER_MM):
        found.append("corners or triangles have changed")
    if body.GetUUID() != (True, _uuid(job, name, "object")):
        found.append("identifier has changed")
    group, index = body.GetObjectLevelProperty()[:2]
    colour = model.GetBaseMaterialGroupByID(group).GetDisplayColor(index)
    if (colour.Red, colour.Green, colour.Blue) != rgb255(job.bodies.part(name).colour):
        found.append("colour has changed")
    return found
