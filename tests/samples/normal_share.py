"""The share of necks within a limit by the normal distribution's closed form, beside the package's drawn one."""

from __future__ import annotations

import math
from collections.abc import Mapping
from statistics import NormalDist


def share_passing(wall: float, limit: float, taken: Mapping[str, float]) -> float:
    """Share of necks whose wall (mm) keeps the limit, 0 to 1: independent normal errors, what each tolerance may take
    (mm) being two sigmas."""
    return NormalDist().cdf((wall - limit) / (math.hypot(*taken.values()) / 2))
