"""One step of the channel: its extent, width, floor and ends. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

from neckmodel.geometry.curve import Curve
from neckmodel.layout.rod.rod import SEGMENT, Box

LEAST_DIFFERENCE = 1e-6  # mm, sizes that differ by less are the same


class StepName(StrEnum):
    """A step of which a rod's channel has one at most. Other steps bear the name of the bar, or of the odd segment of
    the rod, that lies in them. Of two rods the steps' names end in "-1" on the bass side and in "-2" on the other."""

    RUN = "run"
    BLOCK = Box.BLOCK.value
    ANCHOR = Box.ANCHOR.value
    WASHER = "washer"
    ADJUSTER = "adjuster"
    ACCESS_SLOT = "access-slot"
    KEY_SWING = "key-swing"
    KEY_BORE = "key-bore"


FOR_THE_KEY = (StepName.ACCESS_SLOT, StepName.KEY_SWING, StepName.KEY_BORE)
"""Steps that only the adjusting key needs, and comes through."""


def of_rod(step: str) -> tuple[str, int]:
    """(a step's kind, which of two rods it belongs to), by its name: "run-2" is the run of the second rod. 0 where
    there is one rod, and for a bar's channel."""
    kind, dash, number = step.rpartition("-")
    known = kind in tuple(StepName) or kind.startswith(f"{SEGMENT}-")
    return (kind, int(number)) if dash and known and number in ("1", "2") else (step, 0)


class End(StrEnum):
    """An end of a step: where x is least, and where it is largest."""

    START = "start"
    END = "end"


class EndKind(StrEnum):
    """How a step ends: into another step or out of the wood; to be squared by hand; as the cutter leaves it."""

    OPEN = "open"
    SQUARE = "square"
    ROUND = "round"


@dataclass(frozen=True)
class Step:
    """One step of the channel: a rectangle in plan with its floor, mm. It is cut from above, or from the back.

    y: of its centre line. depth_start, depth_end: of the floor below z = 0 at x_start and x_end; between them it is
    straight, or a parabola with depth_middle half way. corner_start, corner_end: radius left in the corners of that end
    (0: square, open or squared by hand; half the width: a full round).

    end_start, end_end: "square" (to be squared by hand), "round", "open" (runs into another step or out of the wood).
    narrowest: the least width in which the parts in it still have their room; None: the planned width.

    ceiling: of a step cut from the back, the depth below z = 0 of its floor, on which the rod lies; its depths are then
    those to which the rod's room reaches, where the strip begins. face: depth of the level back from which it is cut.
    bored: a round hole from `ceiling` to `floor`, as wide as it is high.
    """

    name: str
    x_start: float
    x_end: float
    width: float
    depth_start: float
    depth_end: float
    y: float = 0.0
    corner_start: float = 0.0
    corner_end: float = 0.0
    end_start: EndKind = EndKind.OPEN
    end_end: EndKind = EndKind.OPEN
    depth_middle: float | None = None
    narrowest: float | None = None
    ceiling: Curve | None = None
    face: float = 0.0
    bored: bool = False

    @cached_property
    def floor(self) -> Curve:
        """The floor's depth along x. Everything that needs a depth takes it from here."""
        return Curve(self.x_start, self.x_end, self.depth_start, self.depth_end, self.depth_middle)

    @property
    def kind(self) -> str:
        """Its name, less the number of the rod where there are two."""
        return of_rod(self.name)[0]

    @property
    def rod(self) -> int:
        """Which of two rods it belongs to; 0 where there is one rod, and for a bar's channel."""
        return of_rod(self.name)[1]

    def end(self, end: End) -> tuple[EndKind, float]:
        """(how it ends there, x of that end)."""
        return (self.end_start, self.x_start) if end == End.START else (self.end_end, self.x_end)

    @property
    def depth(self) -> float:
        """The largest depth of the floor, mm."""
        return self.floor.extremes()[1]

    def depth_at(self, x: float) -> float:
        """Depth of the floor below z = 0 at x, mm."""
        return self.floor.at(x)

    @property
    def behind(self) -> bool:
        """Whether it is routed from the back."""
        return self.ceiling is not None and not self.bored

    @property
    def top(self) -> float:
        """Depth below z = 0 of the highest place of its room, mm; 0 of a step cut from above."""
        return 0.0 if self.ceiling is None else self.ceiling.extremes()[0]

    def top_at(self, x: float) -> float:
        """Depth below z = 0 at x of the upper end of its room, mm; 0 of a step cut from above."""
        return 0.0 if self.ceiling is None else self.ceiling.at(x)

    @property
    def from_face(self) -> Step:
        """The step as the router sees it: its depths count from the face that it is cut from. A step cut from above is
        its own."""
        if self.ceiling is None or self.bored:
            return self
        floor = self.ceiling.between(self.x_start, self.x_end)
        middle = None if floor.middle is None else self.face - floor.middle
        return replace(
            self,
            depth_start=self.face - floor.start,
            depth_end=self.face - floor.end,
            depth_middle=middle,
            ceiling=None,
            face=0.0,
        )

    @property
    def is_level(self) -> bool:
        """Whether its floor has one depth all along."""
        return self.depth_start == self.depth_end and self.depth_middle in (None, self.depth_start)

    def flipped(self) -> Step:
        """The step turned end for end: x becomes -x."""
        return replace(
            self,
            x_start=-self.x_end,
            x_end=-self.x_start,
            depth_start=self.depth_end,
            depth_end=self.depth_start,
            corner_start=self.corner_end,
            corner_end=self.corner_start,
            end_start=self.end_end,
            end_end=self.end_start,
        )

    def moved(self, by: float) -> Step:
        """The step moved along x by this much, mm."""
        return replace(self, x_start=self.x_start + by, x_end=self.x_end + by)

    def up_to(self, x: float) -> Step | None:
        """The part of the step before x, the wood's end; None where no part is."""
        if self.x_end < x - LEAST_DIFFERENCE:
            return self
        if self.x_start >= x - LEAST_DIFFERENCE:
            return None
        floor = self.floor.between(self.x_start, x)
        return replace(
            self, x_end=x, depth_end=floor.end, depth_middle=floor.middle, corner_end=0.0, end_end=EndKind.OPEN
        )


def alone(steps: Iterable[Step], rod: int) -> tuple[Step, ...]:
    """The steps of one of two rods, named as if it were the only one; every step where there is one rod (0)."""
    return tuple(replace(step, name=step.kind) if rod else step for step in steps if not rod or step.rod == rod)


def plain(step: str) -> str:
    """A step's name in plain words: `access-slot` becomes `access slot`."""
    return step.replace("-", " ")
