"""Avoids a nearly empty last sheet of words: words are set closer on fewer sheets, or shared out evenly."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from neckmodel.sheets.marks.display import Drawing, Window
from neckmodel.sheets.marks.sketch import bounds
from neckmodel.sheets.pages.pages import foot_of, top_of
from neckmodel.sheets.pages.sizes import Paper

ENOUGH = 0.35  # of a page; a last sheet with less on it is nearly empty
CLOSER = (0.94, 0.88, 0.82, 0.76)  # of the usual spacing of lines, tried in turn; letters shrink half as much
SHARED = tuple(1.0 - 0.04 * k for k in range(1, 13))  # of a page's height, tried in turn

Draw = Callable[[Paper], tuple[Drawing, ...]]


def joined(draw: Draw, paper: Paper) -> tuple[Drawing, ...]:
    """The pages that `draw` makes on this paper, set so that the last is not nearly empty, where that can be done."""
    usual = draw(paper)
    if len(usual) == 1 or taken(usual[-1]) >= ENOUGH:
        return usual
    for spacing in CLOSER:
        closer = draw(replace(paper, spacing=spacing))
        if len(closer) < len(usual):
            return closer
    best = usual
    for share in SHARED:
        even = draw(replace(paper, filled=share))
        if len(even) > len(usual):
            break
        if taken(even[-1]) > taken(best[-1]):
            best = even
        if taken(best[-1]) >= ENOUGH:
            break
    return best


def taken(page: Drawing) -> float:
    """The share of a page's height that is in use, from its top to its lowest mark."""
    foot, top = foot_of(page), top_of(page)
    marks = [mark for mark in page.marks if not isinstance(mark, Window)]
    lows = [low for mark in marks if (low := bounds([mark])[1]) > foot - 1.0]
    return (top - min(lows)) / (top - foot) if lows else 0.0
