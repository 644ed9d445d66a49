"""What the kernel says of a solid's size. Loaded only by what needs the kernel anyway."""

from __future__ import annotations

import cadquery as cq
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps

from neckmodel.solids.kernel import INTEGRATION
from neckmodel.writers.setups import Bounds


def quick_box(shape: cq.Shape) -> Bounds:
    """A box that may be larger than the shape, by its tolerance and more, but not smaller; far faster than `box`."""
    bounds = Bnd_Box()
    BRepBndLib.Add_s(shape.wrapped, bounds, False)
    x0, y0, z0, x1, y1, z1 = bounds.Get()
    return x0, y0, z0, x1, y1, z1


def volume_and_centre(shape: cq.Shape) -> tuple[float, tuple[float, float, float]]:
    """mm3, and the centre of the volume, mm."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, INTEGRATION)
    centre = properties.CentreOfMass()
    return float(properties.Mass()), (centre.X(), centre.Y(), centre.Z())
