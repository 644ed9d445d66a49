"""The woods of a design: the table's, with the maker's own values over them."""

from __future__ import annotations

import difflib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from neckmodel.errors import Problem
from neckmodel.limits import SHEAR_FREE, SPREAD_MODULUS
from neckmodel.strength.materials.woods import OWN, Wood, find_wood, unknown_wood

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.tables.woods import OwnWood

# what a wood that the table does not have must state, so that its strength can be estimated
NEEDED = ("modulus", "bending_strength", "compression_parallel")


def _same(name: str) -> str:
    return " ".join(name.lower().split())


def own_wood(design: Design, name: str) -> tuple[str, OwnWood] | None:
    """(name as stated under [woods], values) of a wood; None where the file has no wood of this name."""
    own = {} if design.woods is None else design.woods.own
    return next(((stated, values) for stated, values in own.items() if _same(stated) == _same(name)), None)


def wood_of(design: Design, name: str) -> Wood | None:
    """The wood of this name: the maker's own values, and the built-in table's for the rest. None where the two together
    know too little for an estimate."""
    found, row = own_wood(design, name), find_wood(name)
    if found is None:
        return row
    stated, own = found
    if row is None:
        if any(getattr(own, key) is None for key in NEEDED):
            return None
        row = Wood(
            name=stated,
            aliases=(),
            bending_modulus=0.0,
            rupture=0.0,
            parallel=0.0,
            across=None,
            shear=None,
            density=None,
            radial=None,
            tangential=None,
            source=OWN,
        )
    modulus = own.modulus
    if modulus is not None or own.modulus_spread is not None:
        row = replace(row, modulus_range=None, spread=SPREAD_MODULUS)
    kept: dict[str, Any] = {
        "bending_modulus": None if modulus is None else modulus / SHEAR_FREE,
        "spread": own.modulus_spread,
        "rupture": own.bending_strength,
        "parallel": own.compression_parallel,
        "across": own.compression_across,
        "density": own.density,
        "radial": own.shrinkage_radial,
        "tangential": own.shrinkage_tangential,
    }
    values = {name: value for name, value in kept.items() if value is not None}
    if own.shrinkage_radial is not None:
        values["coefficient_radial"] = None
    if own.shrinkage_tangential is not None:
        values["coefficient_tangential"] = None
    return replace(row, name=stated, source=OWN if row.source == OWN else f"{OWN}, over {row.source}", **values)


def woods_of(design: Design) -> tuple[tuple[Wood, ...], Wood] | Problem:
    """(the wood of each strip of the neck, one behind the rod last, the fretboard's), or what an estimate would need to
    know of the first that is not known."""
    neck = neck_woods(design)
    board = _known(design, "fretboard.wood", design.fretboard.wood)
    if isinstance(neck, Problem):
        return neck
    stated = design.channel.back_strip if design.rod is not None and design.channel.from_behind else None
    if stated is not None:
        behind = _known(design, "channel.back_strip.wood", stated.wood)
        if isinstance(behind, Problem):
            return behind
        neck = (*neck, behind)
    return board if isinstance(board, Problem) else (neck, board)


def neck_woods(design: Design) -> tuple[Wood, ...] | Problem:
    """The wood of each strip of the board, bass side first, one for a board in one piece; or what an estimate would
    need to know of the first that is not known."""
    strips = () if design.board is None else design.board.strips
    named = [(f"board.strips[{k}].wood", strip.wood) for k, strip in enumerate(strips)]
    found = []
    for key, name in named or [("neck.wood", design.neck.wood)]:
        wood = _known(design, key, name)
        if isinstance(wood, Problem):
            return wood
        found.append(wood)
    return tuple(found)


def _known(design: Design, key: str, name: str) -> Wood | Problem:
    """The wood that `key` names, or what an estimate needs to know of it."""
    wood = wood_of(design, name)
    if wood is not None:
        return wood
    found = own_wood(design, name)
    if found is not None:
        stated, own = found
        missing = next(word for word in NEEDED if getattr(own, word) is None)
        return Problem(f"woods.{stated}.{missing}", f'is not stated, and the table of woods has no "{name}"')
    own_names = {} if design.woods is None else {_same(stated): stated for stated in design.woods.own}
    near = difflib.get_close_matches(_same(name), own_names, 1, 0.6)
    return unknown_wood(key, name, own_names[near[0]] if near else None)
