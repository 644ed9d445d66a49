"""Whatever is done to a design file, it reads, or it is refused in printable words that name a place."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from neckmodel.design import read_text, remarks
from neckmodel.errors import DesignError

HERE = Path(__file__).parent
ROWS = (HERE / "siskin.toml").read_text(encoding="utf-8").splitlines()
VALUES = [
    "nan",
    "-inf",
    "-1",
    "0",
    "1e308",
    "9" * 25,
    "true",
    '"x"',
    '"auto"',
    '"flat"',
    '"7/32 in"',
    "[]",
    "[[]]",
    "{}",
]
VALUES += ["{nut = 1}", '{fret_1 = "C"}', '{file = "x"}', "{bass = 640}", "2031-05-30", "12:00:00", '""', "[{}]", "="]
PLACED = re.compile(r"(siskin\.toml(:\d+)?|--set): \S.*: \S.+")


@st.composite
def _mutated(draw: st.DrawFn) -> str:
    rows = list(ROWS)
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(rows) - 1))
        how = draw(st.sampled_from(["value", "inner value", "drop", "repeat", "cut"]))
        value = draw(st.sampled_from(VALUES))
        if how == "value":
            rows[at] = re.sub(r"= .*$", lambda _, new=value: f"= {new}", rows[at])
        elif how == "inner value":
            rows[at] = re.sub(r"= [^,}{\[]+(?=[,}])", lambda _, new=value: f"= {new}", rows[at], count=1)
        elif how == "drop":
            del rows[at]
        elif how == "repeat":
            rows.insert(draw(st.integers(0, len(rows))), rows[at])
        else:
            rows[at] = rows[at][: draw(st.integers(0, len(rows[at])))]
    return "\n".join(rows)


@settings(max_examples=150, deadline=None)
@given(_mutated())
def test_any_mutation_reads_or_is_refused_in_words(text: str) -> None:
    try:
        design = read_text(text, "siskin.toml")
    except DesignError as error:
        said = str(error).splitlines()
    else:
        said = []
        assert 300 <= design.strings.scale.bass <= 900
        assert all(remark.isprintable() for remark in remarks(design))
    for line in said:
        assert line.isprintable()
        assert PLACED.fullmatch(line), line
