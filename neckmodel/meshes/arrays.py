"""Reads the triangulation that the kernel has left on a shape's faces into arrays.

The kernel hands out nodes one by one, which takes half a second on a fine neck. Its binary file format holds the same
numbers as blocks of doubles, so they are read from there. The format may change between versions: every block is
matched to its face by size and end nodes, and a face without a sure match is read node by node.
"""

from __future__ import annotations

import io
import struct
from dataclasses import dataclass
from typing import Any

import numpy as np
from OCP.BinTools import BinTools
from OCP.BRep import BRep_Tool
from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS

from neckmodel.errors import MeshError
from neckmodel.geometry.types import Floats
from neckmodel.meshes.weld import Ints

_MARK = b"Triangulations "
_HEAD = struct.Struct("<iiBBd")  # nodes, triangles, has surface parameters, has normals, deflection


@dataclass(frozen=True)
class FaceMesh:
    """One face's triangulation. nodes (n, 3) mm; triangles (m, 3), wound outward; uv (n, 2) or None."""

    nodes: Floats
    triangles: Ints
    uv: Floats | None


def faces_of(shape: Any) -> list[Any]:
    """The kernel faces of a kernel shape, in exploration order: the order that numbers them."""
    explorer, found = TopExp_Explorer(shape, TopAbs_FACE), []
    while explorer.More():
        found.append(TopoDS.Face_s(explorer.Current()))
        explorer.Next()
    return found


def read_faces(shape: Any, *, fast: bool = True) -> list[FaceMesh]:
    """The triangulation of every face of a meshed kernel shape. fast=False reads node by node, for comparison."""
    blocks: dict[tuple[object, ...], list[FaceMesh]] = {}
    for block in _blocks(shape) if fast else ():
        blocks.setdefault(_key(block.nodes[0], block.nodes[-1], len(block.nodes), len(block.triangles)), []).append(
            block
        )
    return [_read_face(number, face, blocks) for number, face in enumerate(faces_of(shape))]


def _read_face(number: int, face: Any, blocks: dict[tuple[object, ...], list[FaceMesh]]) -> FaceMesh:
    location = TopLoc_Location()
    found = BRep_Tool.Triangulation_s(face, location)
    if found is None or found.NbTriangles() == 0:
        raise MeshError(f"meshing a solid: its face {number} was left without triangles")
    count = found.NbNodes()
    key = _key(found.Node(1).Coord(), found.Node(count).Coord(), count, found.NbTriangles())
    same = blocks.get(key, [])
    mesh = same[0] if len(same) == 1 else _node_by_node(found)
    nodes, triangles = mesh.nodes, mesh.triangles
    if not location.IsIdentity():
        move = location.Transformation()
        matrix = np.array([[move.Value(row, column) for column in range(1, 5)] for row in range(1, 4)])
        nodes = nodes @ matrix[:, :3].T + matrix[:, 3]
    if face.Orientation() == TopAbs_REVERSED:
        triangles = triangles[:, ::-1]
    return FaceMesh(nodes, triangles, mesh.uv)


def _key(first: Any, last: Any, nodes: int, triangles: int) -> tuple[object, ...]:
    return (nodes, triangles, *map(float, first), *map(float, last))


def _node_by_node(found: Any) -> FaceMesh:
    count = range(1, found.NbNodes() + 1)
    nodes = np.array([found.Node(i).Coord() for i in count], float)
    triangles = np.array([found.Triangle(i).Get() for i in range(1, found.NbTriangles() + 1)], np.int64) - 1
    uv = np.array([found.UVNode(i).Coord() for i in count], float) if found.HasUVNodes() else None
    return FaceMesh(nodes, triangles, uv)


def _blocks(shape: Any) -> list[FaceMesh]:
    """All triangulations in the kernel's binary form; nothing where the form is not the known one."""
    stream = io.BytesIO()
    BinTools.Write_s(shape, stream)
    data = stream.getvalue()
    try:
        start = data.rindex(_MARK)
        end = data.index(b"\n", start)
        place, found = end + 1, []
        for _ in range(int(data[start + len(_MARK) : end])):
            block, place = _block(data, place)
            found.append(block)
    except (ValueError, struct.error):
        return []
    return found


def _block(data: bytes, place: int) -> tuple[FaceMesh, int]:
    nodes, triangles, has_uv, has_normals, _ = _HEAD.unpack_from(data, place)
    place += _HEAD.size
    points = np.frombuffer(data, "<f8", 3 * nodes, place).reshape(-1, 3)
    place += 24 * nodes
    uv = np.frombuffer(data, "<f8", 2 * nodes, place).reshape(-1, 2) if has_uv else None
    place += 16 * nodes if has_uv else 0
    corners = np.frombuffer(data, "<i4", 3 * triangles, place).reshape(-1, 3).astype(np.int64) - 1
    if nodes < 3 or triangles < 1 or corners.min() < 0 or corners.max() >= nodes:
        raise ValueError("not a triangulation")
    place += 12 * triangles + (12 * nodes if has_normals else 0)
    return FaceMesh(points, corners, uv), place
