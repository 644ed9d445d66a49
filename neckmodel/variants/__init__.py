"""Many designs: a maker's rods tried one by one, one value varied, the workshop's errors drawn at random. No kernel."""

from __future__ import annotations

from neckmodel.design.rods import OwnRod, read_rods
from neckmodel.variants.ranges import Variant, vary_range
from neckmodel.variants.rods.fit import Fit, fit_rods
from neckmodel.variants.tolerance.report import Sure, ToleranceReport, vary_tolerance

__all__ = [
    "Fit",
    "OwnRod",
    "Sure",
    "ToleranceReport",
    "Variant",
    "fit_rods",
    "read_rods",
    "vary_range",
    "vary_tolerance",
]
