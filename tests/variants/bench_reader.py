"""A maker who reads what is told and does it, word for word: what would be measured afterwards."""

from __future__ import annotations

import re
from collections.abc import Iterable

STEPS = {"run": "run", "access slot": "access-slot", "pocket in which the key swings": "key-swing"}
MM = r"(-?\d+\.\d\d) mm"
CUTS = (
    (rf"cut the ([a-z0-9 -]+?) to {MM} deep", "depth"),
    (rf"widen the ([a-z0-9 -]+?) to {MM}", "width"),
    (rf"lengthen the ([a-z0-9 -]+?) back to x {MM}", "x_start"),
    (rf"lengthen the ((?:(?! back)[a-z0-9 -])+?) to x {MM}", "x_end"),
)
NO_DEEPER = rf"cut the ([a-z0-9 -]+?) no deeper than {MM}"
CARVE = (rf"{MM} at fret 1\b", rf"{MM} at fret 12\b")
ENDS = rf"(heel\.depth|head\.thickness) no less than {MM}"


def step_of(words: str) -> str:
    """The step that these words name."""
    if words.startswith("channel of "):
        return words.removeprefix("channel of ")
    return STEPS.get(words, words.removesuffix(" pocket"))


def cut_as_told(sentences: Iterable[str]) -> dict[str, float]:
    """What is measured once the steps are cut on as these sentences say."""
    found = {}
    for text in sentences:
        for pattern, what in CUTS:
            for words, to in re.findall(pattern, text):
                found[f"measured.channel.{step_of(words)}.{what}"] = float(to)
    return found


def no_deeper_than(sentences: Iterable[str]) -> dict[str, float]:
    """By step: how deep it may be."""
    return {step_of(words): float(to) for text in sentences for words, to in re.findall(NO_DEEPER, text)}


def carved_as_told(sentences: Iterable[str]) -> dict[str, float]:
    """What is measured once the neck is carved as thin as these sentences allow, the ends as thick as they ask."""
    found = {}
    for text in sentences:
        if "carve no thinner than" not in text:
            continue
        told = text.partition("carve no thinner than")[2].partition(";")[0].partition(", which")[0]
        for fret, pattern in zip(("fret_1", "fret_12"), CARVE, strict=True):
            for thick in re.findall(pattern, told):
                key = f"measured.neck.thickness.{fret}"
                found[key] = max(found.get(key, 0.0), float(thick))
        for key, least in re.findall(ENDS, told):
            found[f"measured.{key}"] = max(found.get(f"measured.{key}", 0.0), float(least))
    return found
