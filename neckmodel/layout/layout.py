"""The layout: every derived number of one design, frozen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from neckmodel.layout.body.place import BodyPlace
from neckmodel.layout.body.recess import Recess
from neckmodel.layout.body.wings import BodyWing
from neckmodel.layout.channel.cutters import Cutting
from neckmodel.layout.channel.step import Step
from neckmodel.layout.channel.walls import SectionWall, opening
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.fretboard.nut import NutPlace, nut_strip
from neckmodel.layout.hardware.posts import HeadWay, head_ways
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.key.key import KeyPlace
from neckmodel.layout.neck.back import Back
from neckmodel.layout.neck.outside import Head, Heel, Outside, Point
from neckmodel.layout.neck.section import section_walls
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.layout.strings.action import StringHeight, plan_action
from neckmodel.layout.strings.frets import Fret, Frets, fret_at
from neckmodel.layout.wood.pieces import Piece
from neckmodel.layout.wood.scarf import Scarf

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class Station:
    """A place marked on the wood: its name and x from the nut, mm."""

    name: str
    x: float


@dataclass(frozen=True)
class Layout:
    """Every derived number, right-handed for either hand. Lengths mm, angles degrees, in the frame x from the nut,
    y from the centre line, z from the glue plane. blank_profile, blank_half_width: the sawn blank; board: (length,
    width, thickness) of the stock once it is trued, or None.
    pieces: what the neck is glued up from beside itself; scarf: None for a head in one piece.
    steps: as cut, where they were measured; planned_steps: as they follow from the design.
    recesses: what of the body an adjuster at the heel and its key need; body_wings: glued to a neck that runs through.
    """

    design: Design
    frets: Frets
    fretboard: Fretboard
    back: Back
    head: Head
    heel: Heel
    outside: Outside
    rod: RodPlace | None
    bars: tuple[Bar, ...]
    steps: tuple[Step, ...]
    planned_steps: tuple[Step, ...]
    cuttings: tuple[Cutting, ...]
    walls: tuple[SectionWall, ...]
    screws: tuple[Screw, ...]
    tuners: tuple[TunerPlace, ...]
    nut: NutPlace
    key: KeyPlace | None
    blank_profile: tuple[Point, ...]
    blank_half_width: float
    board: tuple[float, float, float] | None
    stations: tuple[Station, ...]
    scarf: Scarf | None
    pieces: tuple[Piece, ...]
    body: BodyPlace
    remarks: tuple[str, ...]
    recesses: tuple[Recess, ...] = ()
    body_wings: tuple[BodyWing, ...] = ()

    @property
    def name(self) -> str:
        return self.design.name

    @property
    def left_handed(self) -> bool:
        return self.design.design.hand == "left"

    def across(self, y: float) -> float:
        """y as it lies on the finished neck: the layout is right-handed, a left-handed neck is its mirror image."""
        return -y if self.left_handed else y

    @cached_property
    def head_ways(self) -> tuple[HeadWay, ...]:
        """Each string's way from the nut to its tuner, bass side first; none where there is not one tuner for each."""
        return head_ways(self.frets.strings, self.tuners, self.head)

    @cached_property
    def action(self) -> StringHeight:
        return plan_action(self.design, self.frets)

    @property
    def nut_strip(self) -> Fretboard | None:
        """The fretboard's wood behind a nut in a groove."""
        return nut_strip(self.nut, self.fretboard)

    @property
    def fretted(self) -> tuple[Fret, ...]:
        """Every fret with a slot, from the nut: a zero fret too."""
        zero = (fret_at(self.frets.spans, 0),) if self.design.fretboard.zero_fret else ()
        return (*zero, *self.frets.frets)

    def step(self, name: str) -> Step:
        for step in self.steps:
            if step.name == name:
                return step
        raise KeyError(name)

    def cutting(self, name: str) -> Cutting | None:
        return next((c for c in self.cuttings if c.step == name), None)

    def wall_at(self, step: Step, x: float) -> float:
        """Least wood round a step within the section at x, mm, by the law of the back (transitions left out)."""
        return float(section_walls([self.back.section(x)], [opening(step, x)])[0])
