"""Every place to be marked on the wood, measured from one datum."""

from __future__ import annotations

from neckmodel.layout.channel.step import Step
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.fretboard.nut import NutPlace, nut_strip
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.layout import Station
from neckmodel.layout.neck.outside import Head, Heel
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.layout.strings.frets import Frets
from neckmodel.layout.wood.scarf import Scarf


def list_stations(
    frets: Frets,
    board: Fretboard,
    head: Head,
    heel: Heel,
    rod: RodPlace | None,
    bars: tuple[Bar, ...],
    steps: tuple[Step, ...],
    screws: tuple[Screw, ...],
    tuners: tuple[TunerPlace, ...],
    nut: NutPlace,
    scarf: Scarf | None = None,
) -> tuple[Station, ...]:
    """Stations on the centre line in the order of x, head first."""
    stations = [
        Station("head's far end", head.x_far),
        Station("head line", head.x_line),
        Station("back of the nut", nut.x_start),
        Station("nut", nut.x_end),
        Station("joint", heel.x_joint),
        Station("tenon's end" if heel.tenon is not None else "wood ends", heel.x_end),
        Station("fretboard's end", board.x_end),
    ]
    strip = nut_strip(nut, board)
    if strip is not None:
        stations.append(Station("fretboard wood behind the nut", strip.x_start))
    if board.slots[0].fret == 0:
        stations.append(Station("zero fret", 0.0))
    stations += [Station(f"fret {f.number}", f.x) for f in frets.frets]
    if scarf is not None:
        above = "head's face" if scarf.way == "under" else "glue plane"
        stations += [Station(f"scarf's seam on the {above}", scarf.x_top), Station("scarf's seam below", scarf.x_keel)]
    if head.volute is not None:
        stations += [Station("volute starts", head.volute.x_start), Station("volute ends", head.volute.x_end)]
    if rod is not None:
        stations += [
            Station("adjuster's face", rod.x_adjuster),
            Station("adjuster's block", rod.x_block),
            Station("rod's end", rod.x_anchor_end),
        ]
    for bar in bars:
        stations += [Station(f"{bar.name} starts", bar.x_start), Station(f"{bar.name} ends", bar.x_end)]
    for step in steps:
        stations += [Station(f"{step.name} starts", step.x_start), Station(f"{step.name} ends", step.x_end)]
    stations += [Station(screw.name, screw.x) for screw in screws]
    stations += [Station(tuner.name, tuner.on_face[0]) for tuner in tuners]
    return tuple(sorted(stations, key=lambda s: (s.x, s.name)))
