"""A rod put in from the back, and a fretboard in one piece with the neck: what goes together, and what is refused.

They look at what the file states, as the other pairs do.
"""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.rules.rule import Broken
from neckmodel.design.values.keys import Facts

CUT_FROM, STRIP = "channel.cut_from", "channel.back_strip"


def cut_from_back(facts: Facts) -> Iterator[Broken]:
    """What a channel cut from the back needs, and what it does not go with."""
    behind = facts.text(CUT_FROM) == "back"
    if not behind:
        if facts.has(STRIP):
            says = "is stated, and the channel is cut from the front, where the fretboard closes it"
            yield Broken(STRIP, says, attempt=f'leave it out, or state {CUT_FROM} = "back"')
        return
    if not facts.has("rod"):
        if facts.has("bars"):
            says = 'is "back", and bars are glued in from the front, under the fretboard'
            yield Broken(CUT_FROM, says, attempt="leave it out")
        return
    if not facts.has(STRIP):
        says = f'is missing: a channel with {CUT_FROM} = "back" is closed by a strip'
        yield Broken(STRIP, says, 'for example back_strip = {wood = "walnut"}')
    if facts.has("rod.cover_strip"):
        says = f'is stated beside {CUT_FROM} = "back": there the rod lies on the floor, and the back strip closes it'
        yield Broken("rod.cover_strip", says, attempt="take it out, or cut the channel from the front")
    if facts.has("bars"):
        says = 'is "back", and bars beside the rod are glued in from the front'
        yield Broken(CUT_FROM, says, attempt="cut the channel from the front, or leave the bars out")
    if facts.number("rod.count", 1) > 1:
        says = 'is "back", and the strips behind two rods are not built yet'
        yield Broken(CUT_FROM, says, attempt="cut their channels from the front, or state one rod")
    if facts.text("rod.adjuster.socket.kind") == "spokes":
        says = 'is "back", and a spoke wheel stands open toward the strings'
        yield Broken(CUT_FROM, says, attempt='cut_from = "front" with a wheel, or a hexagon socket')
