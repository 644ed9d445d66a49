"""Exact distances between a solid's own trimmed faces: slow, but right where a mesh can only give bounds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Builder, BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Section
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon, BRepBuilderAPI_MakeVertex
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.GeomLib import GeomLib_IsPlanarSurface
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_OUT, TopAbs_REVERSED
from OCP.TopoDS import TopoDS_Compound
from OCP.TopTools import TopTools_ListOfShape

from neckmodel.errors import KernelError
from neckmodel.geometry.types import Floats

_ON = 1e-6  # a point this near a skin lies on it, mm
_FLAT = 1e-6  # a face this near to its plane is flat, mm


def exact_distance(first: Any, second: Any) -> tuple[float, Floats, Floats]:
    """Least distance (mm) of two kernel shapes and the nearest point (3,) on each."""
    search = BRepExtrema_DistShapeShape(first, second)
    if not search.IsDone() or search.NbSolution() == 0:
        raise KernelError("distance between faces", "no nearest points were found")
    here, there = search.PointOnShape1(1), search.PointOnShape2(1)
    return search.Value(), np.array(here.Coord()), np.array(there.Coord())


def point_to_faces(point: Floats, faces: Iterable[Any]) -> tuple[float, Floats]:
    """Exact distance (mm) from a point (3,) to trimmed kernel faces, and the nearest point (3,) on them."""
    vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*map(float, point))).Vertex()
    distance, _, foot = exact_distance(vertex, compound(faces))
    return distance, foot


def lies_outside(point: Floats, solid: Any) -> bool:
    """Whether a point (3,) lies outside a kernel solid; a point on its skin does not."""
    return bool(BRepClass3d_SolidClassifier(solid, gp_Pnt(*map(float, point)), _ON).State() == TopAbs_OUT)


def compound(faces: Iterable[Any]) -> Any:
    """The kernel faces as one shape."""
    builder, whole = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(whole)
    for face in faces:
        builder.Add(whole, face)
    return whole


def plane_of(face: Any) -> tuple[Floats, Floats] | None:
    """A point (3,) and the outward unit normal (3,) of a flat kernel face; None where the face is curved.

    After a loft a flat face may lie on a spline surface.
    """
    if not GeomLib_IsPlanarSurface(BRep_Tool.Surface_s(face), _FLAT).IsPlanar():
        return None
    surface = BRepAdaptor_Surface(face, True)
    u = (surface.FirstUParameter() + surface.LastUParameter()) / 2
    v = (surface.FirstVParameter() + surface.LastVParameter()) / 2
    point, along_u, along_v = gp_Pnt(), gp_Vec(), gp_Vec()
    surface.D1(u, v, point, along_u, along_v)
    normal = np.cross(np.array(along_u.Coord()), np.array(along_v.Coord()))
    normal /= np.linalg.norm(normal)
    return np.array(point.Coord()), -normal if face.Orientation() == TopAbs_REVERSED else normal


def section_of(shape: Any, x: float) -> Any:
    """The edges in which a kernel shape meets the plane square to x there."""
    cut = BRepAlgoAPI_Section(shape, gp_Pln(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)), False)
    cut.Build()
    if not cut.IsDone():
        raise KernelError("section square to x", "the kernel did not finish it", x=x)
    return cut.Shape()


def bounds_of(shape: Any) -> Floats:
    """(2, 3) tight bounds of a kernel shape, mm, without any mesh."""
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, box, False, False)
    if box.IsVoid():
        raise KernelError("bounds of a shape", "there is nothing in it")
    return np.array(box.Get()).reshape(2, 3)


def curved_surface(face: Any) -> Any | None:
    """A kernel face's surface, untrimmed and in place; None for a flat face, which a mesh follows exactly."""
    return None if plane_of(face) is not None else BRepAdaptor_Surface(face, False)


def centre_of(face: Any) -> Floats:
    """Centroid (3,) of a kernel face, mm."""
    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, properties)
    return np.array(properties.CentreOfMass().Coord())


def block(profile: Iterable[tuple[float, float]], half_width: float) -> Any:
    """A kernel solid with a closed profile of (x, z) corners, reaching half_width to either side of y = 0."""
    outline = BRepBuilderAPI_MakePolygon()
    for x, z in profile:
        outline.Add(gp_Pnt(x, -half_width, z))
    outline.Close()
    face = BRepBuilderAPI_MakeFace(outline.Wire(), True).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 2 * half_width, 0.0)).Shape()


def cut_away(shape: Any, tools: Iterable[Any]) -> Any:
    """A kernel shape less others, all in one operation."""
    arguments, taken = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(shape)
    for tool in tools:
        taken.Append(tool)
    cut = BRepAlgoAPI_Cut()
    cut.SetArguments(arguments)
    cut.SetTools(taken)
    cut.SetNonDestructive(True)
    cut.Build()
    if not cut.IsDone():
        raise KernelError("cutting a tool at the openings", "the kernel did not finish")
    return cut.Shape()
