"""Every length that can be measured, with its type: stated, derived or measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import Number, numbers
from neckmodel.layout.channel.measured import SECTION, size_of

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout


def numbers_of(layout: Layout) -> tuple[Number, ...]:
    """Every length that can be measured, with its type: the design's lengths by their keys, then the channel's."""
    return (*numbers(layout.design), *channel_numbers(layout))


def channel_numbers(layout: Layout) -> tuple[Number, ...]:
    """The sizes of every step of the channel, with their type."""
    measured = {key for key, _ in layout.design.measured or ()}
    planned = {step.name: step for step in layout.planned_steps}
    found = []
    for step in layout.steps:
        for what in ("x_start", "x_end", "width", "depth"):
            key, value = f"{SECTION}{layout.full_name(step.name)}.{what}", size_of(step, what)
            plan = size_of(planned[step.name], what) if key in measured else None
            found.append(Number(key, value, "measured" if key in measured else "derived", plan))
    return tuple(found)


def as_built(layout: Layout) -> tuple[Number, ...]:
    """The measured lengths."""
    if layout.design.measured is None:
        return ()
    return tuple(number for number in numbers_of(layout) if number.origin == "measured")


def built_of(layout: Layout, step: str) -> tuple[Number, ...]:
    """The measured lengths of one step of the channel."""
    return tuple(
        n
        for n in channel_numbers(layout)
        if n.origin == "measured" and n.key.startswith(f"{SECTION}{layout.full_name(step)}.")
    )
