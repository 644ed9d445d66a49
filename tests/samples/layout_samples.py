"""What the layout's tests share: the presets by name, and a small neck to vary."""

from __future__ import annotations

from pathlib import Path

from plain_neck import NECK

import neckmodel
from neckmodel.design import Design, read, read_text
from neckmodel.layout import Layout, lay_out

PRESETS = ("dunnock", "redpoll", "garganey")
FOLDER = Path(neckmodel.__file__).resolve().parents[1] / "presets"


def preset(name: str, *overrides: str) -> Design:
    return read(FOLDER / f"{name}.toml", overrides)


def laid_out(name: str, *overrides: str) -> Layout:
    return lay_out(preset(name, *overrides))


PLAIN = (
    NECK
    + """\
[heel]
wood_ends_at = 468.406
[rod]
kind = "two-way"
adjuster_at = "head"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
block = {length = 12.0}
[rod_place]
from_nut = "auto"
"""
)

L_KEY = '\n[adjusting_key]\nkind = "L-key"\nsize = 4.0\nshort_arm = 27.0\nlong_arm = 70.0\nengaged_depth = 4.0\n'
L_KEY += "[channel]\nkey_clearance = 1.0\n"


def plain(*overrides: str, more: str = "") -> Design:
    """The neck of most printed values: 640 mm, joint at fret 16, wood to 468.406; no key and no cutters."""
    return read_text(PLAIN + more, "plain", overrides)
