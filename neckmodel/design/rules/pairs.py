"""Kinds of neck that do not go together, and kinds half stated: refused with the key and the reason.

They look at what the file states, section by section, where the other rules look at sound values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from neckmodel.design.rules.behind import cut_from_back, in_one
from neckmodel.design.rules.rule import Broken
from neckmodel.design.values.keys import Facts, look_up
from neckmodel.design.values.tuners import OF_A_POST, OF_A_SIDE_TUNER
from neckmodel.lengths import listed

Pair = Callable[[Facts], Iterator[Broken]]

OF_A_ROD = ("rod", "bars", "rod_place", "channel", "adjusting_key")
"""Sections that have no meaning in a neck without reinforcement."""


def reinforced(facts: Facts) -> Iterator[Broken]:
    """A neck has a rod, or bars, or both, or says that it has neither."""
    stated = [f"[{name}]" for name in OF_A_ROD if facts.has(name)]
    if facts.has("neck.reinforcement"):
        if facts.text("neck.reinforcement") == "none" and stated:
            says = f"is stated beside {listed(stated)}: a neck without reinforcement has no channel"
            leave = "that section" if len(stated) == 1 else "those sections"
            yield Broken("neck.reinforcement", says, attempt=f"take out {leave}, or leave neck.reinforcement out")
    elif not facts.has("rod") and not facts.has("bars"):
        yield Broken(
            "rod",
            "there is neither a [rod] nor [bars]",
            'a neck has one of them, or both, or says [neck] reinforcement = "none"',
        )


def fretless(facts: Facts) -> Iterator[Broken]:
    """Without frets there is no height of theirs, and no zero fret."""
    if not facts.has("fretboard.fretless"):
        return
    if facts.has("fretboard.fret_height"):
        says = "is stated beside fretless: no fret stands over the wood"
        yield Broken("fretboard.fret_height", says, attempt="leave one of the two out")
    if facts.truth("fretboard.zero_fret"):
        says = "is stated beside fretless: the strings of a fretless neck lie on the nut"
        yield Broken("fretboard.zero_fret", says, attempt="leave one of the two out")


def rod_way(facts: Facts) -> Iterator[Broken]:
    """Only a two-way rod has a flat bar that may lie either way."""
    kind = facts.text("rod.kind")
    if facts.has("rod.bar") and kind in ("one-way", "compression"):
        says = f"is stated of a {kind} rod, which goes in one way only"
        yield Broken("rod.bar", says, attempt='leave it out, or state rod.kind = "two-way"')


def slotted(facts: Facts) -> Iterator[Broken]:
    """Tuners of a head with slots are bored from its sides; those of another stand on its face."""
    tuners = look_up(facts.raw, ("head", "tuners"))
    for k, tuner in enumerate(tuners if isinstance(tuners, list) else ()):
        stated = tuner if isinstance(tuner, dict) else {}
        if facts.has("head.slots"):
            wrong, says = OF_A_POST, "is stated beside head.slots, whose tuners are bored from the side"
            attempt = "write {x, side, below_face, hole}, or leave head.slots out"
        else:
            wrong, says = OF_A_SIDE_TUNER, "is stated of a head without slots, whose tuners stand on its face"
            attempt = "write {x, y, hole, housing}, or state head.slots"
        for key in wrong:
            if key in stated:
                yield Broken(f"head.tuners.{k}.{key}", says, attempt=attempt)


def one_rod(facts: Facts) -> Iterator[Broken]:
    """One rod is never off the centre line."""
    if facts.has("rod.offset") and facts.number("rod.count", 1) < 2:
        says = "is stated of one rod, which lies on the centre line"
        yield Broken("rod.offset", says, attempt="leave it out, or state rod.count = 2")


OF_A_HEAD = (
    *("starts_at", "angle", "drop", "thickness", "length", "outline", "scarf", "volute", "wings", "tuners"),
    "slots",
)
"""Keys of `[head]` that have no meaning where there is no head."""


def headless(facts: Facts) -> Iterator[Broken]:
    """A neck without a head has its nut end, and nothing of a head; one with a head has no nut end and no clamp."""
    if facts.text("head.kind") != "none":
        for name in ("end", "clamp"):
            if facts.has(f"head.{name}"):
                says = "is stated of a neck with a head"
                yield Broken(f"head.{name}", says, attempt='leave it out, or state head.kind = "none"')
        return
    for name in OF_A_HEAD:
        if facts.has(f"head.{name}"):
            says = 'is stated beside head.kind = "none": a neck without a head has only its nut end'
            yield Broken(f"head.{name}", says, attempt="leave it out, or state another head.kind")
    if not facts.has("head.end"):
        says = "a neck without a head needs its nut end {length, thickness, width}"
        yield Broken("head.end", "is missing", says)


PAIRS: tuple[Pair, ...] = (reinforced, fretless, rod_way, slotted, one_rod, cut_from_back, in_one, headless)


def unlike(facts: Facts) -> Iterator[Broken]:
    """Every pair that is refused. facts: of the file as stated."""
    for pair in PAIRS:
        yield from pair(facts)
