"""What a design file may state, and the reader understands, but nothing builds yet. A line goes when it is built."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from neckmodel.design.facts import Path, split
from neckmodel.design.model import Design

Unbuilt = tuple[str, str, Callable[[Design], bool]]  # key, what it is, whether the design asks for it

UNBUILT: tuple[Unbuilt, ...] = (
    ("rod.kind", "compression rods are", lambda d: d.rod is not None and d.rod.kind == "compression"),
    ("rod.kind", "one-way rods are", lambda d: d.rod is not None and d.rod.kind == "one-way"),
    ("rod.adjuster_at", "rods with the adjuster at the heel are", lambda d: d.rod is not None and _at_heel(d)),
    ("rod.adjuster.socket.kind", "spoke sockets are", lambda d: d.rod is not None and _spokes(d)),
    ("rod.adjuster.wheel", "spoke wheels are", lambda d: d.rod is not None and d.rod.adjuster.wheel is not None),
    ("rod.segments", "rods of odd segments are", lambda d: d.rod is not None and bool(d.rod.segments)),
    ("adjusting_key.kind", "ball-end keys are", lambda d: _key(d) == "ball-end"),
    ("adjusting_key.kind", "bars as adjusting keys are", lambda d: _key(d) == "bar"),
)


def _at_heel(design: Design) -> bool:
    return design.rod is not None and design.rod.adjuster_at == "heel"


def _spokes(design: Design) -> bool:
    return design.rod is not None and design.rod.adjuster.socket.kind == "spokes"


def _key(design: Design) -> str | None:
    return design.adjusting_key.kind if design.adjusting_key is not None else None


def refusals(design: Design, sections: frozenset[str]) -> Iterator[tuple[Path, str]]:
    """What of this design is not built yet: path and sentence. Only the named sections are looked at."""
    for key, what, asked in UNBUILT:
        path = split(key)
        if path[0] in sections and asked(design):
            yield path, f"{what} not built yet"
