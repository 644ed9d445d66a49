"""What must hold of the slots in a head, and of the tuners bored into it from the side."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, at_most, length, less_than, needs
from neckmodel.design.tables.head import HeadOutline
from neckmodel.design.tables.slots import HeadSlots, SideTuner

_SLOTS = "head.slots"


@needs("head")
def slots(design: Design) -> Iterator[Broken]:
    """The slots must lie on the head one end after the other, their ramps too; the head falls away from the strings."""
    head, cut = design.head, design.head.slots
    if cut is None:
        return
    if head.kind == "stepped":
        says = 'is stated beside head.kind = "stepped", whose face does not fall away from the strings'
        yield Broken(_SLOTS, says, attempt='leave the slots out, or head.kind = "angled" or "scarfed"')
    if cut.to >= cut.from_:
        yield Broken(f"{_SLOTS}.to", "does not lie beyond from", less_than(cut.from_))
    elif cut.ends != "squared" and cut.from_ - cut.to < cut.width:
        says = f"leaves a slot {length(cut.from_ - cut.to)} long, shorter than its two round ends"
        yield Broken(f"{_SLOTS}.to", says, at_most(cut.from_ - cut.width))
    if isinstance(head.outline, HeadOutline) and -cut.to >= head.length:
        yield Broken(f"{_SLOTS}.to", f"lies beyond the head, {length(head.length)} long")
    if cut.ramp is not None and cut.ramp.length > -cut.from_:
        yield Broken(f"{_SLOTS}.ramp.length", "reaches beyond the head line", at_most(-cut.from_))


@needs("strings", "head")
def bored(design: Design) -> Iterator[Broken]:
    """Each roller must lie in the slots and in the head's thickness; no two hold one string."""
    head, cut = design.head, design.head.slots
    if cut is None:
        return
    strings = design.strings.courses * (2 if design.strings.paired else 1)
    holds: dict[int, int] = {}
    for k, tuner in enumerate(head.side_tuners):
        key = f"head.tuners.{k}"
        yield from _in_slots(key, tuner, cut, head.thickness)
        if tuner.string is None:
            continue
        if tuner.string > strings:
            yield Broken(f"{key}.string", f"is more than the {strings} strings", f"allowed are 1 to {strings}")
        elif tuner.string in holds:
            says = f"is on tuner-{holds[tuner.string] + 1} already"
            yield Broken(f"{key}.string", says, attempt="give each tuner its own string, or leave string out")
        holds.setdefault(tuner.string, k)


def _in_slots(key: str, tuner: SideTuner, cut: HeadSlots, thickness: float) -> Iterator[Broken]:
    if not cut.to < tuner.x < cut.from_ and cut.to < cut.from_:
        allowed = f"{at_most(cut.from_)} and at least {length(cut.to)}"
        yield Broken(f"{key}.x", "does not lie between the ends of the slots", allowed)
    if tuner.below_face >= thickness:
        yield Broken(f"{key}.below_face", f"lies under the head, {length(thickness)} thick", less_than(thickness))


SLOT_RULES = (slots, bored)
