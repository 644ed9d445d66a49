"""What `explain` prints about a check: plain texts, no kernel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from neckmodel.findings import without_rod


@dataclass(frozen=True)
class About:
    """What `explain` prints about a check. name: "family/topic", where a `<word>` stands for a part's or step's
    name."""

    name: str
    measures: str
    limit: str
    source: str


def entry_of(check: str, entries: Iterable[About]) -> About:
    """The entry of that name, else the first entry of its family that holds for all steps or parts. KeyError where
    there is none."""
    named = {entry.name: entry for entry in entries}
    plain = without_rod(check)
    if check in named or plain in named:
        return named[check if check in named else plain]
    family, _, topic = check.partition("/")
    for entry in named.values():
        start, _, word = entry.name.partition("/")
        if start == family and topic and word in ("<step>", "<part>-<part>", "<bar>"):
            return entry
    raise KeyError(check)
