"""Necks with a rod put in from the back, as texts: invented, for the tests alone."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from neckmodel.design import Design, read, read_text
from neckmodel.layout import Layout, lay_out
from neckmodel.presets import path_of

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts

BEHIND = ("channel.cut_from=back", 'channel.back_strip={wood = "walnut"}')
"""Settings that put redpoll's straight rod in from the back."""

# a compression rod in a bolted neck, from the back
GADWALL = """
[design]
name = "gadwall"
[strings]
courses = 6
scale = 642.0
spacing_at_nut = 36.2
spacing_at_bridge = 54.0
each = [
  {note = "E2", diameter = 1.32, tension = 105.0},
  {note = "A2", diameter = 1.04, tension = 120.0},
  {note = "D3", diameter = 0.79, tension = 125.0},
  {note = "G3", diameter = 0.61, tension = 125.0},
  {note = "B3", diameter = 0.41, tension = 105.0},
  {note = "E4", diameter = 0.30, tension = 100.0},
]
[fretboard]
frets = 20
past_last_fret = 8.0
thickness = 6.0
edge_margin = 3.6
radius = 380.0
[neck]
wood = "maple"
joint_fret = 14
thickness = {fret_1 = 21.0, fret_12 = 23.0}
[heel]
wood_ends_at = 430.0
depth = 20.0
[head]
kind = "angled"
angle = 12.0
length = 170.0
thickness = 14.5
[rod]
kind = "compression"
adjuster_at = "head"
length = 350.0
diameter = 5.0
adjuster = {diameter = 8.0, length = 12.0, socket = {kind = "hex", size = 5.0, depth = 6.0}}
anchor = {length = 12.0, width = 7.0, height = 7.0}
axis_depth = {adjuster = 4.6, middle = 7.4, anchor = 4.6}
washer = {diameter = 9.0, thickness = 1.5}
[adjusting_key]
kind = "straight"
size = 5.0
length = 190.0
[rod_place]
from_nut = 10.0
past_joint = 4.0
[channel]
cut_from = "back"
back_strip = {wood = "walnut"}
wider_by = 0.2
deeper_by = 0.15
[board]
length = 700.0
width = 65.0
thickness = 60.0
[workshop]
router_base = 75.0
cutters = [
  {diameter = 5.0, flute_length = 20.0, stick_out = 42.0},
  {diameter = 8.0, flute_length = 25.0, stick_out = 42.0},
]
"""


@cache
def behind(*overrides: str) -> Design:
    """redpoll with its rod put in from the back, and `KEY=VALUE` texts set over it."""
    return read(path_of("redpoll"), (*BEHIND, *overrides))


@cache
def bent(*overrides: str) -> Design:
    """gadwall, with `KEY=VALUE` texts set over it."""
    return read_text(GADWALL, "gadwall.toml", overrides)


@cache
def laid(*overrides: str) -> Layout:
    """The layout of `behind`."""
    return lay_out(behind(*overrides))


@cache
def laid_bent(*overrides: str) -> Layout:
    """The layout of `bent`."""
    return lay_out(bent(*overrides))


@cache
def solids(kind: str, *overrides: str) -> Parts:
    """The solids of "straight" or "bent"."""
    from neckmodel.solids import build

    return build({"straight": laid, "bent": laid_bent}[kind](*overrides))


@cache
def found(kind: str, *overrides: str) -> Findings:
    """The findings on "straight" or "bent"."""
    from neckmodel.checks import check

    return check(solids(kind, *overrides))
