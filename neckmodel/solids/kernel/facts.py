"""What is measured on a solid to compare it with the one in a file."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepGProp import BRepGProp
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS
from OCP.TopTools import TopTools_IndexedMapOfShape

from neckmodel.solids.kernel.box import Bounds, box
from neckmodel.solids.kernel.gate import INTEGRATION

Measured = tuple[float, tuple[float, float, float]]  # volume, mm3, and its centre, mm


@dataclass(frozen=True)
class Facts:
    """valid: what the kernel says of it. volume: mm3, and its centre, mm. edges: length of all edges between two faces,
    mm. box: its exact box, mm. faces: how many there are of each kind."""

    valid: bool
    volume: Measured
    edges: float
    box: Bounds
    faces: Counter[str]


def facts_of(solid: cq.Shape, bounds: Bounds | None = None) -> Facts:
    """Measures a solid. bounds: its exact box, where it is known already."""
    return Facts(solid.isValid(), volume_and_centre(solid), _edges(solid), bounds or box(solid), _faces(solid))


def volume_and_centre(shape: cq.Shape) -> Measured:
    """mm3, and the centre of the volume, mm."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, INTEGRATION)
    centre = properties.CentreOfMass()
    return float(properties.Mass()), (centre.X(), centre.Y(), centre.Z())


def _edges(shape: cq.Shape) -> float:
    """Length of all edges between two faces, mm. A seam, or an edge inside one face, may differ between solid and
    file."""
    edges = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape.wrapped, TopAbs_EDGE, edges)
    faces = [0] * (edges.Extent() + 1)  # how many lie at each edge
    for face in shape.Faces():
        own = TopTools_IndexedMapOfShape()
        TopExp.MapShapes_s(face.wrapped, TopAbs_EDGE, own)
        for k in range(1, own.Extent() + 1):
            faces[edges.FindIndex(own.FindKey(k))] += 1
    between = (edges.FindKey(k) for k, count in enumerate(faces) if count > 1)
    return float(sum(GCPnts_AbscissaPoint.Length_s(BRepAdaptor_Curve(TopoDS.Edge_s(edge))) for edge in between))


def _faces(shape: cq.Shape) -> Counter[str]:
    """Number of faces of each kind: planes must stay planes, cylinders cylinders. STEP stores Bezier faces as
    B-splines."""
    kinds: Counter[str] = Counter(face.geomType() for face in shape.Faces())
    kinds["BSPLINE"] += kinds.pop("BEZIER", 0)
    return +kinds
