"""The way of a key from the soundhole, as plain data for other programs: lengths in mm, angles in degrees."""

from __future__ import annotations

from dataclasses import asdict

from neckmodel.layout.access.soundhole import SoundholeWay
from neckmodel.layout.key.key import KeyPlace


def way_json(way: SoundholeWay, key: KeyPlace) -> dict[str, object]:
    """`axis_start`, `axis_end`: depth of a bore's axis below the glue plane; `over`, `under`: the least wood that a
    brace keeps over the bore and under it, null of the block."""
    over, under = way.over_braces, way.under_braces
    return {
        "soundhole": {"from": way.x_edge, "to": way.x_to + (way.x_from - way.x_edge), "width": way.width},
        "top": {
            "z_over_at_joint": way.top.over(way.top.x_joint),
            "z_under_at_soundhole": way.top.under(way.x_from),
            "thickness": way.top.thickness,
            "neck_angle": way.top.angle,
        },
        "diameter": way.diameter,
        "tilt": key.tilt,
        "bores": [asdict(bore) for bore in way.bores],
        "through": [
            {
                "name": hole.name,
                "for": hole.bore.what,
                "x_start": hole.x_start,
                "x_end": hole.x_end,
                "diameter": hole.bore.diameter,
                "over": None if hole.over is None else hole.over.value,
                "under": None if hole.under is None else hole.under.value,
            }
            for hole in way.holes
        ],
        "head_block_ends_at": way.x_block,
        "under_top": way.under_top.value,
        "over_braces": None if over is None else over.value,
        "under_braces": None if under is None else under.value,
        "key_least_length": way.least,
        "key_length": way.length,
        "tip_free_at": way.x_free,
        "beside_strings": way.beside,
    }
