"""Instructions for the next work, once something was measured: which steps to cut again, and how deep others may be.

Each number holds for the neck after the instructions before it are done. By cross-sections, lengths mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.design import changed
from neckmodel.design.reading.measured import WORTH_SAYING
from neckmodel.layout.channel.measured import SECTION
from neckmodel.layout.channel.step import FOR_THE_KEY, EndKind, StepName
from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.channel.walls import limit_of
from neckmodel.layout.lay_out import lay_out
from neckmodel.layout.measured.numbers import channel_numbers
from neckmodel.layout.measured.operations import HEEL as HEEL_SAWN
from neckmodel.layout.measured.operations import done, step_cut
from neckmodel.layout.rod.bars import BAR_FIT, is_bar
from neckmodel.lengths import rounded_down, rounded_up
from neckmodel.limits import MOST_BELOW

if TYPE_CHECKING:
    from collections.abc import Iterable

    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.layout import Layout

SAYS = {
    "depth": "cut the {} to {:.2f} mm deep",
    "width": "widen the {} to {:.2f} mm",
    "x_start": "lengthen the {} back to x {:.2f} mm",
    "x_end": "lengthen the {} to x {:.2f} mm",
}


@dataclass(frozen=True)
class Cut:
    """A step that came out smaller than planned, to be cut again to the plan. what: which of its sizes; `to`: mm.

    needed: without this cut the part in the step does not fit in.
    """

    step: str
    what: str
    to: float
    needed: bool

    @property
    def key(self) -> str:
        """The key under which the size is measured."""
        return f"measured.{SECTION}{self.step}.{self.what}"

    @property
    def says(self) -> str:
        """The instruction in words."""
        return SAYS[self.what].format(step_words(self.step), self.to)


# --- steps to cut again ----------------------------------------------------------------------------------------------
def short_of_plan(layout: Layout) -> tuple[Cut, ...]:
    """A cut for every measured size that is less than planned and can still be enlarged."""
    if done(layout).closed:
        return ()
    found = []
    for number in channel_numbers(layout):
        _, name, what = number.key.split(".")
        starts = what == "x_start"
        lack = 0.0 if number.planned is None else (number.planned - number.value) * (-1 if starts else 1)
        if number.planned is None or lack < WORTH_SAYING:
            continue
        step = next(step for step in layout.planned_steps if step.name == name)
        to = (rounded_down if starts else rounded_up)(number.planned)
        found.append(Cut(name, what, to, lack > _planned_free(layout, step, what) + WORTH_SAYING))
    return tuple(found)


def _planned_free(layout: Layout, step: Step, what: str) -> float:
    """How much room the plan leaves, in this size of a step, round what lies in it or passes through it, mm."""
    channel, end = layout.design.channel, step.end_start if what == "x_start" else step.end_end
    if what.startswith("x_"):
        return channel.end_clearance if end == EndKind.SQUARE and step.kind not in FOR_THE_KEY else 0.0
    if is_bar(step.name):
        return BAR_FIT
    if step.kind in FOR_THE_KEY:
        return channel.key_clearance * (2 if what == "width" else 1)
    if step.behind and what == "depth":
        return MOST_BELOW  # the rod then lies that much lower, and the strip is fitted to it
    if step.kind == StepName.ADJUSTER:
        return channel.adjuster_clearance / (1 if what == "width" else 2)
    return channel.wider_by if what == "width" else channel.deeper_by


def with_cuts(layout: Layout, cuts: Iterable[Cut]) -> Layout:
    """The layout after these cuts are made."""
    settings = {cut.key: f"{cut.to} mm" for cut in cuts}
    return lay_out(changed(layout.design, settings)) if settings else layout


def needed_cuts(layout: Layout) -> tuple[Cut, ...]:
    """The cuts without which a part does not fit into the channel."""
    return tuple(cut for cut in short_of_plan(layout) if cut.needed)


# --- steps not cut yet -----------------------------------------------------------------------------------------------
def most_depth(layout: Layout, step: Step) -> float | None:
    """The most depth, mm, of a step not cut yet over a heel that is sawn already. None where the step is cut or closed,
    where the heel is not sawn, or where the planned depth has room."""
    state = done(layout)
    if (
        step.behind
        or step_cut(step.name) in state.surely
        or HEEL_SAWN not in state.surely
        or step.x_end <= layout.heel.x_joint
    ):
        return None
    first, last = max(step.x_start, layout.heel.x_joint), min(step.x_end, layout.heel.x_end)
    deep = max(
        step.depth_at(x) + limit_of(layout.design.limits, step.name) - layout.heel.depth_at(x) for x in (first, last)
    )
    return rounded_down(step.depth - deep) if 0 < deep < step.depth else None


def least_depth(layout: Layout, step: Step) -> float:
    """The least depth of a step for the part in it, mm: the planned depth less the room planned under the part."""
    planned = next(one for one in layout.planned_steps if one.name == step.name)
    return planned.from_face.depth - _planned_free(layout, planned, "depth")
