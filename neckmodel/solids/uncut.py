"""The parts of a layout before the channel and holes are cut. The checks need no more, for they cut meshes
themselves."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from neckmodel.layout import Layout
from neckmodel.solids.assembly import board_solid, glued_regions, grooved, openings, strip_part
from neckmodel.solids.channel import holes, peg_holes, tools
from neckmodel.solids.colours import colour_of
from neckmodel.solids.fretboard import fretboard_solid
from neckmodel.solids.hardware.hardware import hardware_parts
from neckmodel.solids.kernel.shapes import sideways
from neckmodel.solids.neck.neck import carved_neck
from neckmodel.solids.neck.wings import body_wing_parts
from neckmodel.solids.parts import Opening, Part, Parts, Tool

# isort: split
import cadquery as cq


class Uncut:
    """Makes each solid when it is first asked for, or takes it from an earlier build with the same shape.

    In the frame of the layout, right-handed; blank and neck have no channel and no holes. Any of the solids may raise
    KernelError, as `build` does.
    """

    def __init__(self, layout: Layout, earlier: Parts) -> None:
        self.layout, self.earlier = layout, earlier
        self._made: dict[str, Part] = {}

    @cached_property
    def tools(self) -> tuple[Tool, ...]:
        """The cutting solid of every step."""
        return tools(self.layout)

    @cached_property
    def holes(self) -> tuple[Tool, ...]:
        """The solid of every hole."""
        return (*holes(self.layout), *peg_holes(self.layout))

    @cached_property
    def regions(self) -> tuple[Tool, ...]:
        """The region of each part glued to the neck."""
        return glued_regions(self.layout)

    @cached_property
    def openings(self) -> tuple[Opening, ...]:
        """The plane faces through which cutters enter."""
        return openings(self.layout)

    @cached_property
    def carved(self) -> cq.Solid:
        """The whole carved wood, the nut's groove cut."""
        shares = _same(lambda x: (x.outside, x.nut, x.design.allowance, x.blank_half_width), self.layout, self.earlier)
        return self.earlier.carved if shares else grooved(self.layout, carved_neck(self.layout))

    @cached_property
    def _hardware(self) -> dict[str, Part]:
        return {part.name: part for part in (*body_wing_parts(self.layout), *hardware_parts(self.layout))}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all parts, as `Parts` has them."""
        glued = [region.step for region in self.regions]
        strip = () if self.layout.nut_strip is None else ("nut-strip",)
        board = () if self.layout.board is None else ("board",)
        fretboard = () if self.layout.in_one else ("fretboard",)
        return (*board, "blank", "neck", *glued, *fretboard, *strip, *self._hardware)

    @property
    def fretboard(self) -> cq.Solid | None:
        """The fretboard of a neck in one piece with it, as `Parts` has it."""
        if not self.layout.in_one:
            return None
        shares = _same(lambda x: x.fretboard, self.layout, self.earlier) and self.earlier.fretboard is not None
        return self.earlier.fretboard if shares else fretboard_solid(self.layout.fretboard)

    def __contains__(self, name: str) -> bool:
        return name in self.names

    def __getitem__(self, name: str) -> Part:
        if name not in self._made:
            self._made[name] = self._part(name)
        return self._made[name]

    def _part(self, name: str) -> Part:
        layout, half = self.layout, self.layout.blank_half_width
        if name == "board" and layout.board is not None:
            return Part(name, board_solid(layout, layout.board), colour_of(name), "stock")
        if name == "blank":
            return Part(name, sideways(layout.blank_profile, -half, half, name), colour_of(name), "stock")
        if name == "neck":
            return Part(name, self.carved, colour_of(name), "wood")
        if name == "fretboard":
            shares = _same(lambda x: x.fretboard, layout, self.earlier)
            return (
                self.earlier[name] if shares else Part(name, fretboard_solid(layout.fretboard), colour_of(name), "wood")
            )
        if name == "nut-strip":
            return strip_part(layout)[0]
        return self._hardware[name]


def _same(shape: Callable[[Layout], object], layout: Layout, earlier: Parts) -> bool:
    try:
        return shape(layout) == shape(earlier.layout)
    except ValueError:  # arrays do not say whether they are the same
        return False
