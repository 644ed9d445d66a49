"""The estimates as tables of words: the strings' pull, the neck's bending, the change of a season. Forces N."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.tables import Table, Voice
from neckmodel.lengths import NONE
from neckmodel.strength.materials.woods import SPREAD_DENSITY, Wood
from neckmodel.strength.moisture import MoistureEstimate

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.estimate import Range, Strength
    from neckmodel.strength.rod.reach import RodEstimate, Setting
    from neckmodel.strength.strings.load import HeadSide
    from neckmodel.strength.strings.pull import Pull

Row = tuple[str, ...]
NAMES = ("what", "least", "likely", "most")


def pulls(layout: Layout, pull: Pull, head: HeadSide | None) -> Table:
    """Mass and tension of each string, of all together, and the force on the nut."""
    rows: list[Row] = []
    each = zip(layout.design.strings.each, pull.masses, pull.each, strict=True)
    for number, (string, mass, force) in enumerate(each, 1):
        about = "about " if string.wound is not None else ""
        of = NONE if mass is None else f"{about}{mass:.3g} g/m"
        rows.append((str(number), string.note or NONE, of, f"{about}{force:.1f} N"))
    rows.append(("all", "", "", f"{pull.total:.1f} N"))
    if head is not None:
        least, mean, most = head.press
        rows.append(("on the nut", "", "", f"{mean:.1f} N ({least:.0f} to {most:.0f})"))
    return Table("Pull of the strings at pitch, bass first", ("string", "note", "mass", "pull"), tuple(rows), text=2)


def bending(layout: Layout, strength: Strength, voice: Voice) -> Table:
    """Relief, stiffness and, with a rod, the setting for the wanted relief."""

    def lengths(what: str, found: Range) -> Row:
        three = (found.low, found.likely, found.high)
        return what, *(voice.write(value) if math.isfinite(value) else "gives way" for value in three)

    stiff = strength.bending
    rows = [
        lengths(f"relief by the strings, near fret {strength.fret:.0f}", strength.relief),
        lengths("the same after years of load", strength.relief_years),
        ("stiffness EI half way", *(f"{v / 1e6:.0f} N m²" for v in (stiff.low, stiff.likely, stiff.high))),
    ]
    if strength.rod is not None:
        wanted = voice.write(layout.design.action.wanted_relief)
        rows += _rod(strength.rod, wanted, voice, "each rod" if layout.paired else "the rod")
    weak = strength.weakest
    times = f"{weak.spare_low:.1f} times", f"{weak.spare:.1f} times", NONE
    rows.append((f"of its stress, what {weak.where} bears for years", *times))
    return Table("How the neck bends, and what it bears: estimates", NAMES, tuple(rows))


def _rod(rod: RodEstimate, wanted: str, voice: Voice, which: str) -> list[Row]:
    three = (rod.least, rod.likely, rod.most)
    rows = [
        (f"turns of {which} that set {wanted} of relief", *(_within(rod, s, f"{s.turns:.2f} turns") for s in three)),
        (f"force in {which} for it", *(_within(rod, s, f"{s.force:.0f} N") for s in three)),
        ("relief it can move at most", *(_within(rod, s, voice.write(s.reach), always=True) for s in three)),
    ]
    for face in rod.faces:
        pressures = (f"{face.pressure(s.force):.1f} MPa" for s in three)
        rows.append((f"pressure of the {face.name} on end grain", *pressures))
    return rows


def _within(rod: RodEstimate, setting: Setting, says: str, always: bool = False) -> str:
    """The words for one of the rod's settings. always: say it also where the setting is out of the rod's reach."""
    if setting.need < 0 and not rod.rod.adds:
        return "slack"
    return says if always or setting.spare >= 0 else "out of reach"


def seasons(layout: Layout, found: MoistureEstimate, voice: Voice) -> Table:
    """The change between a damp season and a dry one, with the fretboard sawn as stated, or both ways."""
    dry, damp = found.moisture
    moves, stated = {"quarter": found.fretboard_quarter, "flat": found.fretboard_flat}, layout.design.fretboard.rings
    if layout.design.stated("fretboard.rings") and moves[stated] is not None:
        moves = {stated: moves[stated]}
    rows = (
        ("moisture in the wood", f"{dry:.1f} % dry, {damp:.1f} % damp"),
        *((f"fretboard's end narrower, {way}-sawn", voice.write(move)) for way, move in moves.items()),
        *(
            (f"fret ends proud a side, {way}-sawn", voice.write(None if move is None else move / 2))
            for way, move in moves.items()
        ),
        ("neck narrower at the joint", voice.write(found.neck)),
        ("board of strips narrower", voice.write(found.board)),
        ("relief that unlike woods may add or take, at most", voice.write(found.bow)),
    )
    kept = tuple(row for row in rows if row[1] != NONE)
    air = [f"{a.humidity:g} % relative humidity at {a.temperature:g} °C" for a in (found.damp, found.dry)]
    return Table(f"From a damp season to a dry one, {air[0]} to {air[1]}: estimates", ("what", "change"), kept)


def weights(parts: dict[str, tuple[float, Wood]]) -> Table:
    """Mass of the finished parts in g, from the volume of each in mm3 and its wood; a part of unknown density is left
    out. Strips of the neck come to one sum where all their densities are known."""
    rows, strips = [], [found for name, found in parts.items() if name.startswith("neck-strip")]
    for name, (volume, wood) in parts.items():
        if wood.density is not None:
            mass = volume * wood.density * 1e-6
            three = (mass * (1 - SPREAD_DENSITY), mass, mass * (1 + SPREAD_DENSITY))
            rows.append((f"{name}, {wood.name}", *(f"{value:.0f} g" for value in three)))
    if strips and all(wood.density is not None for _, wood in strips):
        mass = sum(volume * (wood.density or 0.0) for volume, wood in strips) * 1e-6
        three = (mass * (1 - SPREAD_DENSITY), mass, mass * (1 + SPREAD_DENSITY))
        rows.append(("neck, its strips together", *(f"{value:.0f} g" for value in three)))
    return Table("Weight of the finished wood: estimates", NAMES, tuple(rows))
