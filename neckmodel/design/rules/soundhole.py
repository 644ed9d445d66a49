"""What must hold of a rod that is turned from inside the body, and of the body that its key passes."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from neckmodel.design.design import Design
from neckmodel.design.rules.neck import at_fret
from neckmodel.design.rules.rule import Broken, Needing, at_least, at_most, length, less_than, more_than, needs

_ENTERS = "adjusting_key.enters"


@needs("rod", "adjusting_key", "body", "heel")
def enters(design: Design) -> Iterator[Broken]:
    """What a key that enters through the soundhole needs, and what it cannot go with."""
    key, rod = design.adjusting_key, design.rod
    if key is None or rod is None or key.enters != "soundhole":
        return
    if rod.adjuster_at == "head":
        says = 'is "soundhole", and the rod\'s adjuster lies at the head'
        yield Broken(_ENTERS, says, 'allowed is "face" there', 'or rod.adjuster_at = "heel"')
    if key.kind == "bar":
        says = 'is "soundhole", where nobody can turn a wheel with a bar'
        yield Broken(_ENTERS, says, 'allowed is "face" with a bar', "or a hexagon socket and its key")
    if design.heel.kind == "through":
        says = 'is "soundhole", and the neck runs through the body'
        yield Broken(_ENTERS, says, 'allowed is "face" with a through heel', "or another heel.kind")
    if design.body.soundhole is None:
        yield Broken("body.soundhole", "is missing", f'{_ENTERS} = "soundhole" needs {{from, to, width}}')
    elif abs(rod.lines[0]) >= design.body.soundhole.width / 2:
        says = "is too narrow: neither rod's key would come through it"
        yield Broken("body.soundhole.width", says, more_than(2 * abs(rod.lines[0])))


@needs("strings", "neck", "body")
def soundhole(design: Design) -> Iterator[Broken]:
    """The order of joint, block, braces, soundhole and bridge along the body."""
    body, hole = design.body, design.body.soundhole
    joint, bridge = at_fret(design, design.neck.joint_fret), design.strings.spans.centre
    if 2 * body.top_thickness >= body.thickness:
        yield Broken("body.top_thickness", "leaves no room between top and back", less_than(body.thickness / 2))
    first, last, block = joint, bridge, body.head_block_ends_at
    if hole is not None:
        if hole.to <= hole.from_:
            yield Broken("body.soundhole.to", "does not lie beyond from", more_than(hole.from_))
        if hole.from_ <= joint:
            yield Broken("body.soundhole.from", f"lies before the joint, x {length(joint)}", more_than(joint))
        if hole.to > bridge:
            yield Broken("body.soundhole.to", f"lies beyond the bridge, x {length(bridge)}", at_most(bridge))
        last = hole.from_
    if block is not None:
        if block <= joint:
            yield Broken("body.head_block_ends_at", f"lies before the joint, x {length(joint)}", more_than(joint))
        elif hole is not None and block > hole.from_:
            yield Broken("body.head_block_ends_at", "lies in the soundhole", at_most(hole.from_))
        first = block
    yield from _braces(design, first, last, "the block's inner face" if block is not None else "the joint")


def _braces(design: Design, first: float, last: float, start: str) -> Iterator[Broken]:
    """Each brace lies between the block and the soundhole, and none in another."""
    braces = design.body.braces
    for k, brace in enumerate(braces):
        if brace.to <= brace.from_:
            yield Broken(f"body.braces.{k}.to", "does not lie beyond from", more_than(brace.from_))
        if brace.from_ < first:
            says = f"lies before {start}: the bore meets no such brace"
            yield Broken(f"body.braces.{k}.from", says, at_least(first), "or leave this brace out")
        if brace.to > last:
            what = "the soundhole" if design.body.soundhole is not None else "the bridge"
            says = f"lies beyond the edge of {what}: the bore meets no such brace"
            yield Broken(f"body.braces.{k}.to", says, at_most(last), "or leave this brace out")
    order = sorted(range(len(braces)), key=lambda k: (braces[k].from_, k))
    for one, two in pairwise(order):
        if braces[two].from_ < braces[one].to:
            says = f"lies in the brace that ends at x {length(braces[one].to)}"
            yield Broken(f"body.braces.{two}.from", says, at_least(braces[one].to))


SOUNDHOLE_RULES: tuple[Needing, ...] = (enters, soundhole)
