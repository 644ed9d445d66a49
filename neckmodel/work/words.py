"""Words for the datum, for the sides, and for floors."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.lengths import with_unit

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step


def datum_words(layout: Layout) -> str:
    """Where x = 0 is on the wood."""
    zero = layout.design.fretboard.zero_fret
    what = "the zero fret's middle line" if zero else "the nut's fretboard-side face"
    return f"{what} where it crosses the centre line" if abs(layout.frets.slope(0)) > 0 else what


def floor_words(step: Step, unit: str) -> str:
    """Depth of a step's floor below the glue plane: one number, both ends, or both ends and half way."""
    start, end = with_unit(step.depth_start, unit), with_unit(step.depth_end, unit)
    if step.depth_middle is not None:
        return f"{start} at its start, {with_unit(step.depth_middle, unit)} half way, {end} at its end"
    return start if step.is_level or start == end else f"{start} at its start to {end} at its end"


def side_mark_words(layout: Layout) -> str:
    """Where the side marks of a fretless fretboard stand, as a sentence; empty for a fretted one."""
    marks, unit = layout.side_marks, layout.design.design.units
    if not marks:
        return ""
    stand = "on the positions themselves" if layout.design.fretboard.fretless == "plain" else "between the lines"
    each = ", ".join(f"{mark.number} at x {with_unit(mark.x, unit)}" for mark in marks)
    return f"Side marks stand {stand}, in the fretboard's bass-side edge: {each} (common practice)."
