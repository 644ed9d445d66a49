"""What the solids hand on: named parts, the tools that cut the channel, and the neck's openings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.notebook import Shown

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.layout.layout import Layout

Colour = tuple[float, float, float]


@dataclass(frozen=True)
class Part:
    """One named solid in the frame of the layout (mm; x from the nut, y from the centre line, z from the glue plane).

    colour: sRGB, 0 to 1. kind: "wood" (finished wood), "stock" (board, blank), "hardware" (envelopes only).
    """

    name: str
    solid: cq.Solid
    colour: Colour
    kind: str


@dataclass(frozen=True)
class Tool:
    """The volume that one step of the channel takes out of the wood, reaching a little above it.

    step: the name of the layout's step ("run", "adjuster", "access-slot", ...).
    """

    step: str
    solid: cq.Solid


NUT_END = "nut end"  # the opening where a slot comes out of the far end of a neck without a head


@dataclass(frozen=True)
class Opening:
    """A plane face of the neck through which a cutter enters; never counted as finished skin.

    point, normal: (3,) mm and unit vector pointing out of the wood.
    x_from, x_to: the range of x in which faces on that plane are open, mm.
    """

    name: str
    point: tuple[float, float, float]
    normal: tuple[float, float, float]
    x_from: float
    x_to: float


@dataclass(frozen=True)
class Parts(Shown):
    """Everything built from one layout.

    parts: in the order board, blank, neck, parts glued to it, fretboard, heel cap, nut, rod, adjusting-key, bars,
    screws, tuners. carved: the whole finished wood, of the neck and the parts glued to it, before channel, slot and
    holes are cut: walls are measured on it. tools: one for each step, in cutting order. holes: one for each screw and
    tuner, `step` being its name. regions: one for each part glued to the neck, `step` being its name; the part is all
    wood in its region that earlier parts have left, and the part `neck` is the rest. laid_out: for a left-handed neck,
    the same parts before they were mirrored; None for a right-handed one. fretboard: of a neck in one
    piece with it, which is then the part `neck`; `carved` is what lies below z = 0.
    """

    layout: Layout
    parts: tuple[Part, ...]
    carved: cq.Solid
    tools: tuple[Tool, ...]
    openings: tuple[Opening, ...]
    holes: tuple[Tool, ...] = ()
    regions: tuple[Tool, ...] = ()
    laid_out: Parts | None = None
    fretboard: cq.Solid | None = None

    @property
    def measured(self) -> Parts:
        """The parts in the frame of the layout, which is right-handed: what the checks measure."""
        return self.laid_out or self

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all parts, in order."""
        return tuple(part.name for part in self.parts)

    def __getitem__(self, name: str) -> Part:
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    def __contains__(self, name: str) -> bool:
        return any(part.name == name for part in self.parts)
