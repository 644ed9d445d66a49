"""Which changes are no longer possible because wood is cut already. More wood can still be taken away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design.values.keys import Path, split
from neckmodel.layout.channel.step import StepName, of_rod
from neckmodel.layout.measured.operations import done, not_yet
from neckmodel.layout.measured.uncut import undone

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from neckmodel.design import Design
    from neckmodel.layout import Layout

# keys of [channel] that measured sizes of a step replace, and which sizes do
CUT = {
    "channel.wider_by": (None, ("width",)),
    "channel.deeper_by": (None, ("depth",)),
    "channel.adjuster_clearance": (StepName.ADJUSTER, ("width", "depth")),
}
BOUGHT = ("rod", "bars")  # can be exchanged as long as they are not laid in; so can the board while nothing is cut


def changes_measured(design: Design, keys: Iterable[str]) -> bool:
    """Whether one of these keys would change a size that was measured."""
    measured = [split(key) for key, _ in design.measured or ()]
    return any(_cut(key, path) or _meets(split(key), path) for key in keys for path in measured)


def puts_back(before: Layout, after: Layout) -> bool:
    """Whether the change would need wood that is cut away, or the removal of a part that is glued on."""
    return bool(undone(before, after)[0])


def only_if(before: Layout, after: Layout) -> str:
    """The work that must not be done yet for this change, where it probably is; empty where there is none."""
    return not_yet(before, undone(before, after)[1])


def replacing(layout: Layout, settings: Mapping[str, float | str]) -> dict[str, float | str]:
    """The settings, with measured sizes of a bought part set as those of its replacement, where it can still be
    exchanged."""
    state, measured = done(layout), {key for key, _ in layout.design.measured or ()}

    def another(key: str) -> bool:
        part = key.partition(".")[0]
        return key in measured and (not state.closed if part in BOUGHT else part == "board" and not state.begun)

    return {f"measured.{key}" if another(key) else key: value for key, value in settings.items()}


def _meets(one: Path, two: Path) -> bool:
    shorter = min(len(one), len(two))
    return one[:shorter] == two[:shorter]


def _cut(key: str, measured: Path) -> bool:
    step, measures = CUT.get(key, (None, ()))
    if measured[0] != "channel" or len(measured) != 3:
        return False
    return measured[2] in measures and step in (None, of_rod(str(measured[1]))[0])
