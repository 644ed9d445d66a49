"""How a router is led along a channel: the direction of feed, the order of lines, the setting of an edge guide, and how
far the base travels. Lengths mm.

Seen from above, a router's cutter turns clockwise, so its front edge moves to the right of the direction of feed. In a
full groove the wood therefore pushes the router to the left. A fence along which the base runs must lie on that side,
the left. A guide fixed to the router, which runs along the blank's edge, must lie on the right, where the push draws it
against the wood. Where a groove is then widened, the cutter must cut with its left side, whose edge moves against the
feed; with its right side it would climb. So each line lies to the left of the one before.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from neckmodel.layout.sides import Side, Toward

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout
    from neckmodel.layout.workshop.router import RouterSetting


@dataclass(frozen=True)
class Feed:
    """One way of leading the router along the blank's bass-side edge.

    toward: "head" or "body", the direction of feed. hand: the side of the router, "left" or "right", on which fence or
    guide lies. first: the side of the step that is cut first, "treble" or "bass".
    """

    toward: Toward
    hand: Literal["left", "right"]
    first: Side

    @property
    def begins(self) -> Toward:
        """The end at which a cut begins."""
        return self.toward.other

    @property
    def last(self) -> Side:
        """The side of the step that is cut last."""
        return self.first.other


def along_fence(layout: Layout) -> Feed:
    """The feed with the router's base along a fence on the bass side. Seen from above with x to the right, a
    right-handed neck has its bass side below, and so is the left of the way toward the head."""
    return Feed(Toward.BODY if _bass_above(layout) else Toward.HEAD, "left", Side.TREBLE)


def along_edge(layout: Layout) -> Feed:
    """A guide fixed to the router runs along the blank's bass-side edge."""
    return Feed(Toward.HEAD if _bass_above(layout) else Toward.BODY, "right", Side.BASS)


def _bass_above(layout: Layout) -> bool:
    """Whether the bass side lies above as the blank is routed, seen from over it with x to the right: of a left-handed
    neck, or of a right-handed one that is turned over to be routed from the back."""
    return layout.left_handed != (layout.back_strip is not None)


def fence_lines(setting: RouterSetting) -> tuple[float, ...]:
    """Where the fence stands for each line, in the order of the cuts: the treble side first. As in
    `RouterSetting.fences`, mm."""
    return tuple(sorted(setting.fences, reverse=True))


def guide_lines(setting: RouterSetting) -> tuple[float, ...]:
    """Distance from the edge guide's face, on the blank's bass-side edge, to the cutter's middle for each line, in the
    order of the cuts: the bass side first, mm."""
    return tuple(sorted(setting.centres))


def base_reach(layout: Layout, settings: tuple[RouterSetting, ...]) -> tuple[float, float] | None:
    """(x from, x to) over which the router's base travels in all cuts, mm; None where there are no cuts, or no base is
    stated. Where a cut leaves the wood, the cutter's middle goes to the cut's end."""
    base = layout.design.workshop.router_base
    if not settings or base is None:
        return None
    starts = [s.step.x_start - base if s.stop_start is None else s.stop_start for s in settings]
    ends = [s.step.x_end + base if s.stop_end is None else s.stop_end for s in settings]
    return min(starts), max(ends)
