"""A neck with a dovetail, a heel that narrows on its way down, and a cap, all from the samples' bolted neck."""

from __future__ import annotations

DOVETAIL = """
[heel]
kind = "dovetail"
depth = 84.0
swell_from = 36.0
width = {joint = 55.0, cap = 32.0}
tenon = {length = 19.0, width = 40.0, depth = 62.0, taper = 5.0}
cap = {thickness = 3.0, wood = "ebony"}
"""
CHANNEL = ("rod.width=6.0", "rod.height=9.2", "rod_place.past_joint=5", "rod.length=360")
"""With the usual clearances the run is 6.1 x 9.3, and goes through the dovetail's root."""
