"""The order of work: what is done one after the other, and with which cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.lying import shims
from neckmodel.lengths import with_unit
from neckmodel.sheets import cautions
from neckmodel.sheets.handed import datum_words
from neckmodel.sheets.layers import plain

if TYPE_CHECKING:
    from neckmodel.layout import Layout

FOR_THE_KEY = ("access-slot", "key-swing")


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
    work = _pieces(layout)
    work += [
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
                f"Draw the centre line {half} from the reference edge. Square the datum "
                f"({datum_words(layout)}) across, and mark every station of the marking-out sheet from it, never one "
                "from another.",
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
    work += _cover(layout)
    work += [_holes(layout)] if layout.screws or layout.tuners else []
    work += _recesses(layout)
    work += _body_wings(layout)
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


def _pieces(layout: Layout) -> list[Work]:
    """Gluing up, where the neck is not of one piece."""
    unit, said, scarf = layout.design.design.units, [], layout.scarf
    for piece in layout.pieces:
        size, name = " x ".join(with_unit(length, unit) for length in piece.stock), plain(piece.name)
        if piece.name == "head-piece" and scarf is not None:
            lies = "under the shaft" if scarf.way == "under" else "on the shaft's ramp"
            seam = "head's face" if scarf.way == "under" else "glue plane"
            said.append(
                f"{name}, {size}: scarf it at {scarf.angle:g} deg, {lies}; its seam comes out at x "
                f"{with_unit(scarf.x_top, unit)} on the {seam} and at x {with_unit(scarf.x_keel, unit)} below."
            )
        elif piece.name.startswith("heel-block") and piece.seam is not None:
            said.append(f"{name}, {size}: glued under the heel, its upper face {with_unit(-piece.seam, unit)} deep.")
        elif piece.seam is not None:
            y = with_unit(layout.across(piece.seam), unit)
            said.append(f"{name}, {size}: glued along the head at y {y}, once the sides there are planed.")
    if not said:
        return []
    says = (
        "Saw and true the pieces, and try every joint dry: no light through it. The grain of all runs along the neck."
    )
    return [Work("Glue up the blank", (says, *said), (cautions.SAW, cautions.DUST, cautions.GLUE))]


def _body_wings(layout: Layout) -> list[Work]:
    """Gluing the body's wings to a neck that runs through, from its sides outward."""
    unit, wings = layout.design.design.units, sorted(layout.body_wings, key=lambda wing: abs(wing.seam))
    if not wings:
        return []
    said = [
        f"{plain(wing.name)}, {' x '.join(with_unit(length, unit) for length in wing.stock)}: from x "
        f"{with_unit(wing.x_start, unit)}, its inner side at y {with_unit(layout.across(wing.seam), unit)}."
        for wing in wings
    ]
    says = "True the block's sides and the wings' inner sides, and try every joint dry: no light through it. One side "
    says += "after the other, the upper faces level."
    return [Work("Glue on the wings of the body", (says, *said), (cautions.SAW, cautions.DUST, cautions.GLUE))]


def _cover(layout: Layout) -> list[Work]:
    """Gluing in the strip over a rod, level with the glue plane."""
    rod, unit = layout.rod, layout.design.design.units
    strip = None if rod is None else rod.strip
    if rod is None or strip is None:
        return []
    under, long = strip.underside, with_unit(strip.x_end - strip.x_start, unit)
    middle = under.at((strip.x_start + strip.x_end) / 2)
    depths = ", ".join(with_unit(depth, unit) for depth in (under.start, middle, under.end))
    size = f"{long} x {with_unit(strip.width, unit)} x {with_unit(strip.thickness, unit)}"
    says = [
        f"Cover strip, {strip.wood}, {size}, from x {with_unit(strip.x_start, unit)} to "
        f"{with_unit(strip.x_end, unit)}: fit its underside to the rod's top, {depths} below the glue plane at its "
        "start, half way and its end.",
        "Lay the rod with a strip of thin tape over it, glue the strip in at its sides only, press it down on the rod, "
        "and plane it level with the glue plane. The adjuster must still turn.",
    ]
    if strip.thickness < under.extremes()[1]:
        says.append("The stock is thinner than the rod is deep: where it does not come down to the rod, pack it out.")
    return [Work("Glue in the cover strip", tuple(says), (cautions.GLUE, cautions.CHISEL))]


def _recesses(layout: Layout) -> list[Work]:
    """What an adjuster at the heel and its key need of the body."""
    unit = layout.design.design.units
    said = []
    for recess in layout.recesses:
        ends = f"x {with_unit(recess.x_start, unit)} to {with_unit(recess.x_end, unit)}"
        deep = with_unit(recess.depth, unit)
        if recess.depth_end != recess.depth:
            deep = f"{deep} at its start to {with_unit(recess.depth_end, unit)} at its end"
        turns = f"; the key turns in it by {recess.swing:g} deg" if recess.swing else ""
        wide = with_unit(recess.width, unit)
        said.append(f"For the {recess.name}: {ends}, {wide} wide, {deep} below the glue plane{turns}.")
    if not said:
        return []
    says = "Beyond the neck's wood the body must be open from its top. Mark it with the neck in its place."
    return [Work("Cut the body's recesses", (says, *said), (cautions.ROUTER, cautions.DUST))]


def _trial(layout: Layout) -> str:
    said = ["Square the corners that are drawn with a chisel."]
    if layout.rod is not None:
        unit = layout.design.design.units
        said += [
            f"The {plain(step)} is cut {with_unit(thick, unit)} too deep: lay a shim of that thickness under the rod."
            for step, thick in shims(layout)
        ]
        deeper = with_unit(layout.rod.below, unit)
        said.append(
            "Try the rod: it goes in by hand pressure, lies on the floor along its whole length, its top "
            f"{deeper} below the glue plane and never proud; the adjuster turns free over its whole travel."
            if layout.rod.curve is None
            else "Try the rod with its washer and anchor: it lies on the curved floor along its whole length, the "
            "washer bears flat on the end of its pocket, and the adjuster turns free."
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
            f"heel's bottom, at x {with_unit(screw.x, unit)}, y {with_unit(layout.across(screw.y), unit)}."
        )
    head = layout.head
    for tuner in layout.tuners:
        x = tuner.on_face[0]
        on_face = (head.x_line - x) / math.cos(math.radians(head.angle))
        said.append(
            f"{plain(tuner.name)}: hole {with_unit(tuner.hole, unit)} in diameter, square to the head's face, "
            f"{with_unit(on_face, unit)} from the head line along the face (x {with_unit(x, unit)}), at y "
            f"{with_unit(layout.across(tuner.on_face[1]), unit)}."
        )
    return Work("Drill", tuple(said), (cautions.DRILL,))
