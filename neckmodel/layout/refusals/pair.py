"""Two rods whose channels run into each other, or into a bar's, are refused."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from neckmodel.layout.channel.between import least_between
from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.rod.bars import is_bar
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.channel.step import Step


def refuse_pair(design: Design, steps: Iterable[Step]) -> None:
    """Raises DesignError where no wood at all is left between the steps of two rods, or between them and a bar."""
    least, rod, bars = least_between(steps), design.rod, design.bars
    if least is None or least.wood > 0 or rod is None or rod.offset is None:
        return
    says = f"lets the {step_words(least.bass)} and the {step_words(least.treble)} run into each other"
    key, offset, share = "rod.offset", rod.offset, 0.5
    if bars is not None and (is_bar(least.bass) or is_bar(least.treble)):
        share = 1.0
        if bars.offset > rod.offset:  # the bars lie outside the rods
            key, offset = "bars.offset", bars.offset
    raise design.problem(key, says, f"more than {no_less(offset - share * least.wood)}")
