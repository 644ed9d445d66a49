"""Kinds of neck that do not go together, and kinds half stated: refused with the key and the reason.

They look at what the file states, section by section, where the other rules look at sound values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from neckmodel.design.rules.rule import Broken
from neckmodel.design.values.keys import Facts
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


PAIRS: tuple[Pair, ...] = (reinforced, fretless, rod_way)


def unlike(facts: Facts) -> Iterator[Broken]:
    """Every pair that is refused. facts: of the file as stated."""
    for pair in PAIRS:
        yield from pair(facts)
