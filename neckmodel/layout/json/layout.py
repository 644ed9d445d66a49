"""The layout as plain data for other programs: lengths in mm, rounded to 0.00001, keys in a fixed order."""

from __future__ import annotations

import math
from typing import Any

from neckmodel.design.reading.measured import Number
from neckmodel.layout.json.body import body_json, recesses_json, wings_json
from neckmodel.layout.json.channel import channel_json, walls_json
from neckmodel.layout.json.fretboard import fretboard_json, nut_json
from neckmodel.layout.json.hand import left_handed
from neckmodel.layout.json.neck import head_json, heel_json, screws_json, shaft_json, slots_json, tuners_json
from neckmodel.layout.json.rod import bars_json, rod_json, rods_json
from neckmodel.layout.json.soundhole import way_json
from neckmodel.layout.json.strings import frets_json, over_nut_json, scale_json, strings_json
from neckmodel.layout.json.wood import blank_json, board_json, pieces_json, scarf_json
from neckmodel.layout.layout import Layout
from neckmodel.layout.measured.numbers import numbers_of

SCHEMA = "neckmodel/layout/1"
DECIMALS = 5


def layout_json(layout: Layout) -> dict[str, Any]:
    """Every derived number, where it lies on the finished neck; an endless length (a flat crown's radius) is null."""
    data: dict[str, object] = {
        "schema": SCHEMA,
        "name": layout.name,
        "unit": "mm",
        "hand": layout.design.design.hand,
        "design_sha256": layout.design.sha256,
        "frets": frets_json(layout),
        "scale": scale_json(layout),
        "strings": strings_json(layout),
        "action": vars(layout.action),
        "fretboard": fretboard_json(layout),
        "neck": shaft_json(layout),
        "nut": nut_json(layout),
        "head": head_json(layout),
        "scarf": scarf_json(layout),
        "pieces": pieces_json(layout),
        "body": body_json(layout),
        "body_wings": wings_json(layout),
        "heel": heel_json(layout),
        "rod": rod_json(layout),
        "bars": bars_json(layout),
        "channel": channel_json(layout),
        "walls_by_section": walls_json(layout),
        "screws": screws_json(layout),
        "tuners": tuners_json(layout),
        "over_nut": over_nut_json(layout),
        "blank": blank_json(layout),
        "stations": [{"name": s.name, "x": s.x} for s in layout.stations],
        "numbers": [_number(number) for number in numbers_of(layout)],
        "remarks": list(layout.remarks),
        "body_recesses": recesses_json(layout),
        "board": board_json(layout),
    }
    if layout.soundhole_way is not None and layout.key is not None:
        data["soundhole_way"] = way_json(layout.soundhole_way, layout.key)
    if layout.slots is not None:
        data["head_slots"] = slots_json(layout, layout.slots)
    if layout.paired:
        data["rods"] = rods_json(layout)
    if layout.strips:
        data["strips"] = [
            {"name": s.name, "wood": s.wood, "width": s.width, "y_bass": s.y_from, "y_treble": s.y_to}
            for s in layout.strips
        ]
    rounded: dict[str, Any] = _rounded(left_handed(data) if layout.left_handed else data)
    return rounded


def _number(number: Number) -> dict[str, object]:
    data: dict[str, object] = {"key": number.key, "value": number.value, "type": number.origin}
    return data if number.origin != "measured" else {**data, "as_built": True, "planned": number.planned}


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0 if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(item) for item in value]
    return value
