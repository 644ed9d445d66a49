"""How each string of a slotted head comes down from the nut into its slot, and how far it clears the wood there. mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Point3
from neckmodel.layout.hardware.slots import SlotPair, in_frame, on_head
from neckmodel.layout.neck.outside import Head
from neckmodel.layout.strings.strings import StringLine

CLOSE = 1e-9  # share of a string's way to which it is known where it enters


@dataclass(frozen=True)
class Clearance:
    """Room under a string, square to the head's face, mm. where: "near end", "ramp's start", "ramp's side" or "ramp's
    lower edge"; "slot's side" where it comes in over the wood between the slots. at: the string there, in the frame of
    the layout."""

    where: str
    room: float
    at: Point3


@dataclass(frozen=True)
class Descent:
    """One string's way down, under its string number, to its tuner; places in the order of its way."""

    string: int
    tuner: str
    places: tuple[Clearance, ...]

    @property
    def least(self) -> Clearance:
        """Where it has the least room."""
        return min(self.places, key=lambda place: place.room)


def descents(strings: Sequence[StringLine], pair: SlotPair, head: Head) -> tuple[Descent, ...]:
    """The way down of each string that has a tuner, in the order of the strings: straight, its under side from the nut
    to its roller's top."""
    lines, found = {string.number: string for string in strings}, []
    for roller in sorted(pair.rollers, key=lambda one: one.string or 0):
        if roller.string in lines:
            line = lines[roller.string]
            start = on_head(head, (line.x_nut, line.y_nut, line.z_nut))
            end = (roller.along, roller.y, roller.top)
            places = tuple(
                Clearance(where, room, in_frame(head, *at)) for where, room, at in clearances(start, end, pair)
            )
            found.append(Descent(line.number, roller.name, places))
    return tuple(found)


def clearances(start: Point3, end: Point3, pair: SlotPair) -> list[tuple[str, float, Point3]]:
    """(where, room, place) where a string from `start` to `end`, both told on the face, comes in over ramp and slot.

    In plan a string only comes nearer to the middle of its slot, so it enters each once.
    """

    sign = 1.0 if end[1] >= 0 else -1.0

    def at(share: float) -> Point3:
        x, y, z = (np.asarray(start) + share * np.subtract(end, start)).tolist()
        return x, y, z

    def entry(edge: float, radius: float) -> float:
        """Share of the way at which it has come in over what begins at `edge` along the face with such corners."""

        def inside(share: float) -> bool:
            along, y, _ = at(share)
            off = abs(sign * y - pair.middle)
            if off > pair.width / 2:
                return False
            return along <= edge - radius + math.sqrt(max(radius**2 - off**2, 0.0)) + 1e-12

        return _first(inside)

    slot, begins = entry(pair.near, pair.radius), entry(pair.ramp_start, 0.0)
    place = at(slot)
    if pair.ramp is None or at(begins)[0] <= pair.near - pair.radius:
        beside = sign * place[1] < pair.inner + CLOSE or sign * place[1] > pair.outer - CLOSE
        return [("slot's side" if beside else "near end", place[2], place)]
    first = at(begins)
    fall = math.tan(math.radians(pair.ramp[1]))
    found = [("ramp's start" if first[0] > pair.ramp_start - 1e-6 else "ramp's side", first[2], first)]
    return [*found, ("ramp's lower edge", place[2] + (pair.ramp_start - place[0]) * fall, place)]


def _first(inside: Callable[[float], bool]) -> float:
    """The least share of the way at which it is inside, given that it stays so."""
    if inside(0.0):
        return 0.0
    found = nearest_enough(inside, 0.0, 1.0, CLOSE)
    return 1.0 if found is None else found
