"""No line of the order of work speaks of a part that the design does not have: random designs of every kind."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from work_cases import ORDER, Tables, laid_out, lines_of, out_of_order

from neckmodel.layout import Layout

SEEDS = range(7000, 7090)
LEAST = 45  # of them can be laid out

# what is spoken of -> whether the design's own tables have it; read from what was drawn, not from the layout
SPOKEN: dict[str, Callable[[Tables], bool]] = {
    r"\brods?\b|adjuster|\bslack\b|rattl": lambda t: "rod" in t,
    r"both ways": lambda t: t.get("rod", {}).get("kind") == "two-way",
    r"face up": lambda t: t.get("rod", {}).get("kind") in ("two-way", "one-way"),
    r"flat bar": lambda t: "bar" in t.get("rod", {}),
    r"(?<!flat )\bbars?\b|carbon": lambda t: "bars" in t,
    r"washer": lambda t: "washer" in t.get("rod", {}),
    r"cover strip|under its strip": lambda t: "cover_strip" in t.get("rod", {}),
    r"\bkey\b|\bkey's\b|from one flat": lambda t: "adjusting_key" in t,
    r"wheel\b|into a hole of": lambda t: t.get("rod", {}).get("adjuster", {}).get("socket", {}).get("kind") == "spokes",
    r"scarf|sloping face": lambda t: t["head"]["kind"] == "scarfed",
    r"the step is \d|as the step is|Leave the step|over the step": lambda t: t["head"]["kind"] == "stepped",
    r"falling by|wedge": lambda t: t["head"]["kind"] != "stepped",
    r"tenon": lambda t: t["heel"]["kind"] == "tenon",
    r"dovetail": lambda t: t["heel"]["kind"] == "dovetail",
    r"[Cc]heeks|[Ss]houlders": lambda t: t["heel"]["kind"] in ("tenon", "dovetail"),
    r"centre block": lambda t: t["heel"]["kind"] == "through",
    r"rear corners": lambda t: t["heel"]["kind"] == "bolted",
    r"\bwing \d|\bwings\b": lambda t: "wings" in t["head"] or "wings" in t["heel"],
    r"heel block": lambda t: t["heel"]["depth"] >= t["board"]["thickness"] + 3 and t["heel"]["kind"] != "through",
    r"[Vv]olute": lambda t: "volute" in t["head"],
    r"(?<!clamp )\bscrews?\b": lambda t: any(s["kind"] == "wood-screw" for s in t["heel"].get("screws", [])),
    r"clamp screw \d": lambda t: bool(t["head"].get("clamp", {}).get("screws")),
    r"the clamp behind|the clamp and|the clamp,": lambda t: "clamp" in t["head"],
    r"[Tt]he nut end|under side of the nut end": lambda t: t["head"]["kind"] == "none",
    r"\bhead\b|\bhead's\b": lambda t: t["head"]["kind"] != "none",
    r"\binserts?\b": lambda t: any(s["kind"] == "insert" for s in t["heel"].get("screws", [])),
    r"\bdowels?\b": lambda t: any(s["kind"] == "dowel" for s in t["heel"].get("screws", [])),
    r"tuner": lambda t: "tuners" in t["head"],
    r"groove from|nut's groove": lambda t: t.get("nut", {}).get("seat") == "groove",
    r"guide bush|printed jig": lambda t: "guide_bush" in t.get("workshop", {}),
    r"[Tt]emplate": lambda t: "guide_bush" in t.get("workshop", {}) or t["heel"]["kind"] == "dovetail",
    r"soundhole|^The (adjuster|key)'s bore|^Through (the block|brace)": lambda t: "soundhole" in t.get("body", {}),
    r"\bcrown\b": lambda t: t["fretboard"]["radius"] != "flat",
}
# what must be spoken of where the design has it
MUST = {
    r"Try the rod": "rod",
    r"never turn a rod while glue sets": "rod",
    r"Glue in bar 1": "bars",
    r"Mark the shoulders": "shoulders",
    r"Saw the scarf|gets a cut of its own": "scarf",
    r"^tuner 1": "tuners",
    r"Leave the volute": "volute",
    r"Saw and pare the groove": "groove",
    r"^The key's bore": "soundhole",
}
THERE: dict[str, Callable[[Tables], bool]] = {
    "rod": lambda t: "rod" in t,
    "bars": lambda t: "bars" in t,
    "shoulders": lambda t: t["heel"]["kind"] in ("tenon", "dovetail"),
    "scarf": lambda t: t["head"]["kind"] == "scarfed",
    "tuners": lambda t: "tuners" in t["head"],
    "volute": lambda t: "volute" in t["head"],
    "groove": lambda t: t.get("nut", {}).get("seat") == "groove",
    "soundhole": lambda t: "soundhole" in t.get("body", {}),
}


@pytest.fixture(scope="module")
def samples(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[int, Tables, Layout]]:
    return laid_out(tmp_path_factory.mktemp("designs"), SEEDS)


def test_no_line_mentions_what_is_not_there(samples: list[tuple[int, Tables, Layout]]) -> None:
    assert len(samples) >= LEAST
    told = []
    seen = dict.fromkeys(SPOKEN, 0)
    for seed, made, layout in samples:
        lines = lines_of(layout)
        for pattern, there in SPOKEN.items():
            hits = [line for line in lines if re.search(pattern, line)]
            seen[pattern] += bool(hits)
            told += [(seed, pattern, line) for line in hits if not there(made)]
    assert told == []
    # each of them is spoken of somewhere, or the pattern would prove nothing; no sample has a printed jig
    assert [pattern for pattern, count in seen.items() if not count and "guide bush" not in pattern] == []


def test_nothing_is_missing_and_all_is_in_order(samples: list[tuple[int, Tables, Layout]]) -> None:
    missing, disordered = [], []
    for seed, made, layout in samples:
        lines = lines_of(layout)
        text = "\n".join(lines)
        missing += [
            (seed, pattern)
            for pattern, name in MUST.items()
            if THERE[name](made) and not re.search(pattern, text, re.MULTILINE)
        ]
        disordered += [(seed, *pair) for pair in out_of_order(lines, ORDER)]
        cuts = [line.removeprefix("cut ") for line in lines if line.startswith("cut ")]
        assert sorted(cuts) == sorted(step.name for step in layout.steps)
    assert missing == []
    assert disordered == []


def test_sentences_are_whole(samples: list[tuple[int, Tables, Layout]]) -> None:
    """No number that is none, no doubled blank or stop, no empty pair of words."""
    for seed, _, layout in samples:
        for line in lines_of(layout, cautions=False):
            assert not re.search(r"  |\.\.|\bnan\b|\binf\b|None|- mm| ,| ;|x -$|\{|\}", line), (seed, line)
