"""How a router is led along a channel: which way it is fed, which line comes first, how an edge guide is set, and how
far its base must be carried. Lengths mm.

A router's cutter turns clockwise, seen from above. Its front edge so moves to the right of the way it is fed, and in a
full groove the wood pushes the router to the left. A fence that the base runs along must lie there, on the left; a
guide that is fixed to the router and runs along the blank's edge must lie on the right, where that push draws it to the
wood. Where a groove is then widened, the cutter must cut with its left side, whose edge moves forward, against the
feed; with its right side it would climb. So the next line always lies on the left of the one before.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout
    from neckmodel.layout.workshop.router import RouterSetting


@dataclass(frozen=True)
class Feed:
    """One way of leading the router along the blank's bass-side edge.

    toward: "head" or "body", where it is fed to. hand: the side of the way on which fence or guide lies, "left" or
    "right". first: the side of the step that is cut first, "treble" or "bass".
    """

    toward: str
    hand: str
    first: str

    @property
    def begins(self) -> str:
        """The end at which a cut begins."""
        return "body" if self.toward == "head" else "head"

    @property
    def last(self) -> str:
        """The side of the step that is cut last."""
        return "bass" if self.first == "treble" else "treble"


def along_fence(layout: Layout) -> Feed:
    """The router's base runs along a fence on the bass side. Seen from above, x to the right, a right-handed neck has
    its bass side below, and the left of the way toward the head is below too."""
    return Feed("body" if layout.left_handed else "head", "left", "treble")


def along_edge(layout: Layout) -> Feed:
    """A guide fixed to the router runs along the blank's bass-side edge."""
    return Feed("head" if layout.left_handed else "body", "right", "bass")


def fence_lines(setting: RouterSetting) -> tuple[float, ...]:
    """Where the fence stands for each line, in the order of the cuts along it: the treble side first. As in
    `RouterSetting.fences`."""
    return tuple(sorted(setting.fences, reverse=True))


def guide_lines(setting: RouterSetting) -> tuple[float, ...]:
    """From the edge guide's face, on the blank's bass-side edge, to the cutter's middle for each line, in the order of
    the cuts along it: the bass side first."""
    return tuple(sorted(setting.centres))


def base_reach(layout: Layout, settings: tuple[RouterSetting, ...]) -> tuple[float, float] | None:
    """(x from, x to) over which the router's base goes in all cuts; None without any, or where no base is stated. Where
    a cut leaves the wood, the cutter's middle goes as far as its end."""
    base = layout.design.workshop.router_base
    if not settings or base is None:
        return None
    starts = [s.step.x_start - base if s.stop_start is None else s.stop_start for s in settings]
    ends = [s.step.x_end + base if s.stop_end is None else s.stop_end for s in settings]
    return min(starts), max(ends)
