"""What is cut already cannot be changed: settings that no remedy may ask for. More wood can still be taken away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design.facts import Path, split
from neckmodel.layout.measured import SECTION

if TYPE_CHECKING:
    from collections.abc import Iterable

    from neckmodel.design import Design
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

# keys of [channel] that a measured size stands in the place of, and the measures of a step that do so
CUT = {
    "channel.wider_by": (None, ("width",)),
    "channel.deeper_by": (None, ("depth",)),
    "channel.adjuster_clearance": ("adjuster", ("width", "depth")),
}
GIVE = 0.01  # mm; remedies are rounded to it
PLACES = 9  # along a floor that is compared


def frozen(design: Design, keys: Iterable[str]) -> bool:
    """Whether one of these keys would change what was measured already."""
    measured = [split(key) for key, _ in design.measured or ()]
    return any(_cut(key, path) or _meets(split(key), path) for key in keys for path in measured)


def puts_back(before: Layout, after: Layout) -> bool:
    """Whether wood that is cut away before would be there again: a step that any measure shows to be cut may grow in
    every direction, and must not be smaller anywhere."""
    left = {step.name: step for step in after.steps}
    return any(step.name not in left or not _holds(left[step.name], step) for step in cut_steps(before))


def cut_steps(layout: Layout) -> tuple[Step, ...]:
    """The steps of the channel that were measured, in whatever direction."""
    keys = [key for key, _ in layout.design.measured or () if key.startswith(SECTION)]
    names = {key.removeprefix(SECTION).rpartition(".")[0] for key in keys}
    return tuple(step for step in layout.steps if step.name in names)


def _holds(new: Step, old: Step) -> bool:
    """Whether the new step takes all the wood that the old one has taken."""
    if new.x_start > old.x_start + GIVE or new.x_end < old.x_end - GIVE:
        return False
    if abs(new.y - old.y) + (old.width - new.width) / 2 > GIVE:
        return False
    at = [old.x_start + (old.x_end - old.x_start) * k / (PLACES - 1) for k in range(PLACES)]
    if any(new.depth_at(x) < old.depth_at(x) - GIVE for x in at):
        return False
    ends = (  # (how far the new one goes beyond the old, the radius left in its corners, and in the old one's)
        (old.x_start - new.x_start, new.corner_start, old.corner_start),
        (new.x_end - old.x_end, new.corner_end, old.corner_end),
    )
    return all(radius <= max(before, beyond) + GIVE for beyond, radius, before in ends)


def _meets(one: Path, two: Path) -> bool:
    shorter = min(len(one), len(two))
    return one[:shorter] == two[:shorter]


def _cut(key: str, measured: Path) -> bool:
    step, measures = CUT.get(key, (None, ()))
    if measured[0] != "channel" or len(measured) != 3:
        return False
    return measured[2] in measures and step in (None, measured[1])
