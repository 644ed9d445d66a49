"""The order of work: what is done one after the other, and with which cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.lengths import with_unit
from neckmodel.sheets import cautions
from neckmodel.sheets.layers import plain

if TYPE_CHECKING:
    from neckmodel.layout import Layout

FOR_THE_KEY = ("access-slot", "key-swing")
CHIEF = ("run", "block", "anchor", "adjuster", "washer")


@dataclass(frozen=True)
class Work:
    """One piece of work. cuts: the steps of the channel that are cut in it, by name, in order."""

    title: str
    says: tuple[str, ...]
    cautions: tuple[str, ...]
    cuts: tuple[str, ...] = ()


def order_of_work(layout: Layout) -> tuple[Work, ...]:
    """From the trued board to the carved neck: common practice, no source."""
    unit = layout.design.design.units
    half = with_unit(layout.blank_half_width, unit)
    names = [step.name for step in layout.steps]
    for_key = tuple(name for name in names if name in FOR_THE_KEY)
    chief = tuple(name for name in names if name not in FOR_THE_KEY)
    work = [
        Work(
            "True the board",
            (
                "Plane the upper face flat (it becomes the glue plane) and the bass-side edge straight and square to "
                "it: the reference edge. Saw the outline of the blank with its sides parallel; the taper comes later, "
                "because the fence needs a straight edge.",
            ),
            (cautions.SAW, cautions.DUST),
        ),
        Work(
            "Mark out",
            (
                f"Draw the centre line {half} from the reference edge. Square the datum (the nut's fretboard-side "
                "face) across, and mark every station of the marking-out sheet from it, never one from another.",
            ),
            (),
        ),
        Work(
            "Saw the side profile",
            (
                "Saw head face, head back and shaft to the side view. Glue plane, head face, head back and heel are "
                "sawn to size; the shaft keeps the allowance that is drawn.",
            ),
            (cautions.SAW, cautions.DUST),
        ),
    ]
    if chief:
        work.append(
            Work(
                "Rout the channel, while the sides are parallel",
                ("Set fence, stops and depth by a cut in scrap, and measure that cut before you touch the blank.",),
                (cautions.ROUTER, cautions.DUST),
                chief,
            )
        )
        work.append(
            Work(
                "Square the corners and try the parts",
                (_trial(layout),),
                (cautions.CHISEL,),
            )
        )
    if for_key:
        work.append(
            Work(
                "Rout the access slot and try the key",
                (
                    "Do this before the rod is pressed home: put the rod in loosely, bring the key in, turn it from "
                    "one flat to the next, take it out and bring it in again.",
                ),
                (cautions.ROUTER, cautions.STRINGS),
                for_key,
            )
        )
    work += [_holes(layout)] if layout.screws or layout.tuners else []
    work += [
        Work(
            "Glue the fretboard",
            (
                "Keep glue out of the channel and off the adjuster (a strip of thin tape over the rod, or dry edges "
                "along it). Locate the fretboard by the datum and the centre line. Turn the adjuster both ways before "
                "the glue has set.",
            ),
            (cautions.GLUE,),
        ),
        Work(
            "Taper the sides and carve the back",
            (
                "Saw and plane the sides to the fretboard, then carve by the thicknesses of the inspection sheet. Stop "
                "early, measure, and enter what you found under [measured].",
            ),
            (cautions.CHISEL, cautions.DUST, cautions.ESTIMATES),
        ),
    ]
    return tuple(work)


def _trial(layout: Layout) -> str:
    said = ["Square the corners that are drawn with a chisel."]
    if layout.rod is not None:
        deeper = with_unit(layout.design.channel.deeper_by, layout.design.design.units)
        said.append(
            "Try the rod: it goes in by hand pressure, lies on the floor along its whole length, its top "
            f"{deeper} below the glue plane and never proud; the adjuster turns free over its whole travel."
        )
    if layout.bars:
        said.append(f"Try {', '.join(plain(bar.name) for bar in layout.bars)}: an easy push fit, with room for glue.")
    return " ".join(said)


def _holes(layout: Layout) -> Work:
    unit = layout.design.design.units
    said = []
    for screw in layout.screws:
        deep = with_unit(screw.z_point - screw.z_bottom, unit)
        said.append(
            f"{plain(screw.name)} ({screw.kind}): hole {with_unit(screw.hole, unit)} in diameter, {deep} deep from the "
            f"heel's bottom, at x {with_unit(screw.x, unit)}, y {with_unit(screw.y, unit)}."
        )
    head = layout.head
    for tuner in layout.tuners:
        x = tuner.on_face[0]
        on_face = (head.x_line - x) / math.cos(math.radians(head.angle))
        said.append(
            f"{plain(tuner.name)}: hole {with_unit(tuner.hole, unit)} in diameter, square to the head's face, "
            f"{with_unit(on_face, unit)} from the head line along the face (x {with_unit(x, unit)}), at y "
            f"{with_unit(tuner.on_face[1], unit)}."
        )
    return Work("Drill", tuple(said), (cautions.DRILL,))
