"""Limits, allowances and shares that no key of the design file states. Checks, jigs and estimates hold to them, and
texts print them from here. Lengths in mm; all are common practice, with no published source, unless one is named.
"""

from __future__ import annotations

# the neck's wood
LEAST_AREA = 0.70  # share of a cross-section that the channel should leave: of its area
LEAST_MODULUS = 0.75  # the same of its section modulus at the back
USUAL_GLUE = 6.0  # glue surface either side at the nut
LEAST_UNDER_SLOT = 1.0  # wood under a fret slot
LEAST_NECKING = 3.0  # wood under a stepped head's face at the head line
USUAL_CLEAR = 3.0  # between a scarf's seam and the nearest cut or shaped surface
BITE_FROM, BITE_TO = 18.0, 22.0  # bite of a heel's screw in hardwood
BELOW_FRETBOARD = 1.0  # from a screw's point to the glue plane

# rod and key
MOST_BELOW = 0.3  # the rod's top under the glue plane, or a void under the rod
MOST_LOOSE = 0.3  # between a compression rod and its strip, which the glue still fills
PAST_STRING = 3.0  # between an outer string and a key beside it

# body and assembly
USUAL_OFF = 0.5  # that a neck may point off the body's centre line at the bridge
BEYOND_WING = 0.01  # of a wing past the neck: less counts as rounding
FLAT = 1e-4  # mean thickness that touching parts share by the rounding of coordinates

# workshop
BASE_THICKNESS = 8.0  # of a router's base plate
TEMPLATE_THICKNESS = 12.0  # of a template under a guide bush
TRUED_OFF = 2.0  # that truing takes of a rough board's thickness
TRUED_OFF_EDGE = 1.5  # and at each of its edges
USUAL_GRAIN = 1 / 20  # slope of the grain, rise over run

# strength and moisture
LARGE_BOW = 5.0  # several times the relief of any playable neck
PROUD = 0.2  # by which fret ends may stand proud, each side; a hand feels more
LOAD_DURATION = 0.6  # of its strength in a test of minutes, at which wood breaks in ten years: Wood Handbook, page 5-40
SHEAR_FREE = 1.10  # bending moduli of the tables hold 10 % of shear: Wood Handbook, page 5-2, and table 5-3, footnote c
SPREAD_MODULUS = 0.22  # coefficient of variation of a modulus: Wood Handbook, table 5-6

# jigs
BED_MARGIN = 5.0  # kept free along the edges of a printer's bed
LEAST_CONTACT = 100.0  # mm2 of a piece that lie on the bed
MOST_BRIDGE = 10.0  # that a level ceiling may span from wall to wall
LEAST_LETTER = 4.8  # height of a label's letters; smaller, their inside closes up under a nozzle of 0.4
PARTING_SHARE = 1e-3  # share by which the pieces of a split jig and their joints' clearance may differ from the whole
POCKET_VOLUME, POCKET_DEPTH = 0.5, 0.02  # mm3 and mm by which what a jig cuts may differ from the plan
CONTOUR_OFF = 0.01  # by which a gauge's edge may miss the section
DOVETAIL_OFF = 0.02  # by which the edge of a dovetail's template may miss its line; meshes are made to 0.005
CROWN_OFF = 0.02  # by which a caul's face may miss the crown
HOLE_OFF = 0.02  # by which a guide's hole may miss its place
BORE_OFF = 0.03  # the same of the long bore for the key from the soundhole
CORK, CORK_LOOSE = 2.0, 1.2  # thickness of a cradle's cork; by how much more there may be where the neck tapers
