"""A rod of the list that the tests change, the list as a file, and what is told of measured sizes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from designs import toml

from neckmodel.checks.remedies.next import tell_as_built
from neckmodel.findings import Finding, Place
from neckmodel.layout import Layout

RUSH: dict[str, Any] = {
    "kind": "two-way",
    "adjuster_at": "head",
    "length": 420.0,
    "width": 6.0,
    "height": 9.2,
    "adjuster": {
        "diameter": 7.0,
        "length": 10.0,
        "axis_below_top": 4.2,
        "socket": {"kind": "hex", "size": 4.0, "depth": 5.0},
    },
    "block": {"length": 12.0, "width": 6.0, "height": 9.2},
    "anchor": {"length": 12.0, "width": 6.0, "height": 9.2},
}


def rods_file(folder: Path, rods: dict[str, dict[str, Any]], units: str = "mm", scale: float = 1.0) -> Path:
    """A list of rods like RUSH, each with its own changes. scale: of RUSH's lengths, for a list in another unit."""
    text = f'units = "{units}"\n'
    for name, changes in rods.items():
        rod = {**_scaled(RUSH, scale), **changes}
        ordered = {"length": rod.pop("length"), **rod}
        text += f'[[rod]]\nname = "{name}"\n' + "".join(f"{key} = {toml(value)}\n" for key, value in ordered.items())
    file = folder / "rods.toml"
    file.write_text(text, encoding="utf-8")
    return file


def _scaled(value: Any, scale: float) -> Any:
    if isinstance(value, dict):
        return {key: _scaled(item, scale) for key, item in value.items()}
    return value * scale if isinstance(value, float) else value


def told_of(layout: Layout, check: str, x: float = 30.0) -> Finding:
    """A finding of this name with what is told of the measured sizes."""
    return tell_as_built([Finding(check, "neck", "pass", "enough", at=Place(x, 0.0, -5.0, 1))], layout)[0]
