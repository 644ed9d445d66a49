"""A rod put in from the back, and a fretboard in one piece with the neck: what goes together, and what is refused.

They look at what the file states, as the other pairs do.
"""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.rules.rule import Broken
from neckmodel.design.values.keys import Facts

CUT_FROM, STRIP, IN_ONE = "channel.cut_from", "channel.back_strip", "fretboard.in_one"


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


def in_one(facts: Facts) -> Iterator[Broken]:
    """A fretboard in one piece with the neck: its rod goes in from the back, and nothing is glued between the two."""
    if not facts.truth(IN_ONE):
        return
    if facts.has("bars"):
        says = "is stated beside [bars], which are glued in from the front, under a fretboard"
        yield Broken(IN_ONE, says, attempt="leave one of the two out")
    elif facts.has("rod") and facts.text(CUT_FROM) != "back":
        says = "is stated beside a rod that goes in from the front, and there is no seam to open"
        yield Broken(IN_ONE, says, f'{CUT_FROM} = "back" is what it needs', 'or [neck] reinforcement = "none"')
    neck, board = facts.text("neck.wood"), facts.text("fretboard.wood")
    if board is not None and " ".join(board.lower().split()) != " ".join((neck or "maple").lower().split()):
        says = f'is "{board}", and neck and fretboard are one piece of {neck or "maple"}'
        yield Broken("fretboard.wood", says, attempt="leave it out, or leave fretboard.in_one out")
    if facts.text("nut.seat") == "groove":
        says = 'is "groove", for which wood is glued on behind the nut; a neck in one piece has none'
        yield Broken("nut.seat", says, 'allowed is "ledge" with fretboard.in_one')
    if facts.text("head.kind") == "scarfed" and facts.text("head.scarf") == "on-ramp":
        says = 'is "on-ramp", whose seam would come out under the fretboard, which is the same wood'
        yield Broken("head.scarf", says, 'allowed is "under" with fretboard.in_one')
    if facts.has("board.strips"):
        says = "is stated of a neck in one piece with its fretboard, whose strips are not estimated yet"
        yield Broken("board.strips", says, attempt="state a board of one wood, or leave fretboard.in_one out")
    if facts.text("heel.kind") in ("tenon", "dovetail"):
        says = "leaves no wood under the fretboard's end beside the tenon; such a neck is not built in one piece"
        yield Broken("heel.kind", says, 'allowed are "bolted" and "through" with fretboard.in_one')
