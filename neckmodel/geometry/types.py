"""Points and arrays of numbers, by their one name. Lengths mm."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Point3 = tuple[float, float, float]
Floats = NDArray[np.float64]
