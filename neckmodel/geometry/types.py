"""Types for points and for arrays of numbers, each named once. Lengths mm."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Point3 = tuple[float, float, float]
Floats = NDArray[np.float64]
