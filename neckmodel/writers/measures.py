"""What the kernel says of a solid's size. Loaded only by what needs the kernel anyway."""

from __future__ import annotations

import cadquery as cq
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps

from neckmodel.solids.kernel.gate import INTEGRATION


def volume_and_centre(shape: cq.Shape) -> tuple[float, tuple[float, float, float]]:
    """mm3, and the centre of the volume, mm."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, INTEGRATION)
    centre = properties.CentreOfMass()
    return float(properties.Mass()), (centre.X(), centre.Y(), centre.Z())
