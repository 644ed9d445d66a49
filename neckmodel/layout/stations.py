"""Every place to be marked on the wood, measured from one datum."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from neckmodel.layout.access.soundhole import SoundholeWay
from neckmodel.layout.channel.step import Step
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.fretboard.nut import NutPlace, nut_strip
from neckmodel.layout.hardware.clamp import ClampPlace
from neckmodel.layout.hardware.peg import PegPlace
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.slots import SlotPair
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.neck.outside import Head, Outside
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.layout.strings.frets import Frets
from neckmodel.layout.wood.scarf import Scarf


@dataclass(frozen=True)
class Station:
    """A place marked on the wood: its name and x from the nut, mm."""

    name: str
    x: float


def in_order(*groups: Iterable[Station]) -> tuple[Station, ...]:
    """The stations of every group on the centre line in the order of x, head first."""
    return tuple(sorted((station for group in groups for station in group), key=lambda s: (s.x, s.name)))


def neck_stations(outside: Outside, scarf: Scarf | None) -> list[Station]:
    """Head, joint and wood's end; the scarf's seam and the volute, where there are such."""
    head, heel = outside.head, outside.heel
    stations = [
        *(
            [Station("neck's end", head.x_far)]
            if head.is_none
            else [Station("head's far end", head.x_far), Station("head line", head.x_line)]
        ),
        Station("joint", heel.x_joint),
        Station(f"{heel.tenon.name}'s end" if heel.tenon is not None else "wood ends", heel.x_end),
    ]
    if scarf is not None:
        above = "head's face" if scarf.way == "under" else "glue plane"
        stations += [Station(f"scarf's seam on the {above}", scarf.x_top), Station("scarf's seam below", scarf.x_keel)]
    if head.volute is not None:
        stations += [Station("volute starts", head.volute.x_start), Station("volute ends", head.volute.x_end)]
    return stations


def fretboard_stations(board: Fretboard, nut: NutPlace, frets: Frets, peg: PegPlace | None) -> list[Station]:
    """The nut, every fret, and the fretboard's end; the step beside a string that starts later, and its peg."""
    stations = [
        *_later_stations(board, peg),
        Station("back of the nut", nut.x_start),
        Station("nut", nut.x_end),
        Station("fretboard's end", board.x_end),
    ]
    strip = nut_strip(nut, board)
    if strip is not None:
        stations.append(Station("fretboard wood behind the nut", strip.x_start))
    if board.slots and board.slots[0].fret == 0:
        stations.append(Station("zero fret", 0.0))
    return stations + [Station(f"fret {f.number}", f.x) for f in frets.frets]


def channel_stations(rods: tuple[RodPlace, ...], bars: tuple[Bar, ...], steps: tuple[Step, ...]) -> list[Station]:
    """The rod, the bars, and both ends of every step. Two rods lie at the same x."""
    stations = []
    for rod in rods[:1]:
        stations += [
            Station("adjuster's face", rod.x_adjuster),
            Station("adjuster's block", rod.x_block),
            Station("rod's end", rod.x_anchor_end),
        ]
    for bar in bars:
        stations += [Station(f"{bar.name} starts", bar.x_start), Station(f"{bar.name} ends", bar.x_end)]
    for step in steps:
        stations += [Station(f"{step.name} starts", step.x_start), Station(f"{step.name} ends", step.x_end)]
    return stations


def hardware_stations(
    screws: tuple[Screw, ...], tuners: tuple[TunerPlace, ...], clamp: ClampPlace | None
) -> list[Station]:
    """The axes of the heel's screws, where those of the tuners meet the head's face, and the clamp with its screws."""
    found = [Station(s.name, s.x) for s in screws] + [Station(t.name, t.on_face[0]) for t in tuners]
    if clamp is not None:
        found += [Station("clamp's far side", clamp.x_start), Station("clamp at the nut", clamp.x_end)]
        found += [Station(s.name, s.x) for s in clamp.screws]
    return found


def slot_stations(slots: SlotPair | None, head: Head) -> list[Station]:
    """Both ends of a head's slots and the start of their ramps on its face, and the axes of its rollers; none without
    slots."""
    if slots is None:
        return []
    found = [("head's slots begin", slots.near), ("head's slots end", slots.far)]
    found += [("ramps begin", slots.ramp_start)] if slots.ramp is not None else []
    stations = [Station(name, head.on_face(along)[0]) for name, along in found]
    return stations + [Station(roller.name, roller.middle[0]) for roller in slots.rollers]


def _later_stations(board: Fretboard, peg: PegPlace | None) -> list[Station]:
    """The step of the bass side beside a string that starts later, and that string's peg; none without one."""
    if board.later is None:
        return []
    found = [Station("bass side's step starts", board.later.x_from), Station("bass side's step ends", board.later.x_to)]
    return found if peg is None else [*found, Station(peg.name, peg.mouth[0])]


def body_stations(way: SoundholeWay | None) -> list[Station]:
    """What the key's bore from the soundhole goes through, as far as it is stated; none without such a key."""
    if way is None:
        return []
    found = [Station("soundhole begins", way.x_edge)]
    if way.x_block is not None:
        found.append(Station("body's block ends", way.x_block))
    for hole in way.braces:
        found += [Station(f"{hole.name} begins", hole.x_start), Station(f"{hole.name} ends", hole.x_end)]
    if len(way.bores) > 1:
        found.append(Station("adjuster's bore ends", way.bores[0].x_end))
    return found
