"""What is cut already cannot be changed: settings that no remedy may ask for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design.facts import Path, split

if TYPE_CHECKING:
    from collections.abc import Iterable

    from neckmodel.design import Design

# keys of [channel], and the measures of a step that show that they have been cut
CUT = {
    "channel.wider_by": (None, ("width",)),
    "channel.deeper_by": (None, ("depth",)),
    "channel.adjuster_clearance": ("adjuster", ("width", "depth")),
    "channel.end_clearance": (None, ("x_end",)),
    "channel.ends": (None, ("x_end",)),
}


def frozen(design: Design, keys: Iterable[str]) -> bool:
    """Whether one of these keys would change what was measured already."""
    measured = [split(key) for key, _ in design.measured or ()]
    return any(_cut(key, path) or _meets(split(key), path) for key in keys for path in measured)


def _meets(one: Path, two: Path) -> bool:
    shorter = min(len(one), len(two))
    return one[:shorter] == two[:shorter]


def _cut(key: str, measured: Path) -> bool:
    step, measures = CUT.get(key, (None, ()))
    if measured[0] != "channel" or len(measured) != 3:
        return False
    return measured[2] in measures and step in (None, measured[1])
