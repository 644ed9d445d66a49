"""GLB (binary glTF 2.0): all finished parts in one file for viewers. Metres and y up, as the standard wants."""

from __future__ import annotations

import json
import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from neckmodel.errors import ExportError
from neckmodel.writers.base import VIEWING, Job, Target, refuse, titled
from neckmodel.writers.meshes.threemf import CORNER_MM, finished
from neckmodel.writers.versions import PROGRAM

MM = 0.001  # m, the unit of the standard
# columns: directions of the layout's x, y and z. x stays, z becomes y (up), y becomes -z: a turn about x, no mirror.
TO_GLTF = ((MM, 0.0, 0.0, 0.0), (0.0, 0.0, MM, 0.0), (0.0, -MM, 0.0, 0.0), (0.0, 0.0, 0.0, 1.0))
ROUGHNESS = 0.8  # wood with a dull finish


@dataclass(frozen=True)
class GlbWriter:
    """GLB: all finished parts in one file."""

    name: str = "glb"
    suffix: str = ".glb"
    says: str = "all finished parts in one file for viewers, with names and colours"

    def targets(self, job: Job) -> tuple[Target, ...]:
        """Its one file."""
        return finished(job, self.suffix, VIEWING)

    def write(self, job: Job, target: Target, path: Path) -> None:
        """Writes the file."""
        import numpy as np
        import trimesh

        visual: Any = trimesh.visual  # only part of the library has types
        gltf: Any = trimesh.exchange.gltf
        scene = trimesh.Scene()
        for name in target.parts:
            mesh = job.bodies.mesh(name, VIEWING).copy()
            surface = visual.material.PBRMaterial(name=name, metallicFactor=0.0, roughnessFactor=ROUGHNESS)
            mesh.visual = visual.TextureVisuals(material=surface)
            scene.add_geometry(mesh, node_name=name, geom_name=name, transform=np.array(TO_GLTF))

        def finish(tree: dict[str, Any]) -> None:
            tree["asset"] = _asset(job, target)
            for material in tree["materials"]:
                # glTF's colours are linear light, and the library would store them as whole numbers
                material["pbrMetallicRoughness"]["baseColorFactor"] = _colour(job, material["name"])

        path.write_bytes(gltf.export_glb(scene, tree_postprocessor=finish))

    def verify(self, job: Job, target: Target, path: Path) -> None:
        """Reads the file again and compares header, colours, parts and their corners."""
        import numpy as np
        import trimesh

        tree, found = glb_tree(path), []
        if tree.get("asset") != _asset(job, target):
            found.append("what it says of itself has changed")
        colours = {item["name"]: item["pbrMetallicRoughness"]["baseColorFactor"] for item in tree.get("materials", [])}
        if colours != {name: _colour(job, name) for name in target.parts}:
            found.append("colours have changed")
        scene = trimesh.load_scene(path, file_type="glb", process=False)
        if list(scene.geometry) != list(target.parts):
            refuse(path, [*found, f"parts are {list(scene.geometry)}"])
        back = np.linalg.inv(np.array(TO_GLTF))
        for name in target.parts:
            mesh = scene.geometry[name].copy()
            mesh.apply_transform(back @ scene.graph.get(name)[0])
            meant = job.bodies.mesh(name, VIEWING)
            if not np.array_equal(mesh.faces, meant.faces) or not np.allclose(
                mesh.vertices, meant.vertices, rtol=0, atol=CORNER_MM
            ):
                found.append(f"{name}: corners or triangles have changed")
        refuse(path, found)


def glb_tree(path: Path) -> dict[str, Any]:
    """The JSON part of a GLB file. Raises ExportError if the file is not a whole one."""
    data = path.read_bytes()
    try:
        magic, version, length, size, kind = struct.unpack_from("<4sIII4s", data)
        if (magic, version, length, kind) != (b"glTF", 2, len(data), b"JSON"):
            raise ExportError(f"{path.name}: not a whole GLB file")
        tree: dict[str, Any] = json.loads(data[20 : 20 + size])
    except (struct.error, ValueError) as error:
        raise ExportError(f"{path.name}: not a whole GLB file: {error}") from error
    return tree


def _asset(job: Job, target: Target) -> dict[str, Any]:
    extras = {"title": titled(target.title, job), "unit": "m", "up": "y"} | (
        {"remark": job.remark} if job.remark else {}
    )
    return {"version": "2.0", "generator": PROGRAM, "extras": extras}


def _colour(job: Job, name: str) -> list[float]:
    return [*(round(linear(value), 6) for value in job.bodies.part(name).colour), 1.0]


def linear(value: float) -> float:
    """sRGB, 0 to 1, as linear light (IEC 61966-2-1)."""
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)
