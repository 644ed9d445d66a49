"""What the kernel says of a solid's size. Loaded only by what needs the kernel anyway."""

from __future__ import annotations

import cadquery as cq
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib

from neckmodel.writers.setups import Bounds


def box(solid: cq.Shape) -> Bounds:
    """(xmin, ymin, zmin, xmax, ymax, zmax), mm, from the surfaces themselves and without their tolerance."""
    bounds = Bnd_Box()
    BRepBndLib.AddOptimal_s(solid.wrapped, bounds, False, False)
    x0, y0, z0, x1, y1, z1 = bounds.Get()
    return x0, y0, z0, x1, y1, z1
