"""The layout: every derived number of one design, in one frozen class."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from neckmodel.layout.access.soundhole import SoundholeWay
from neckmodel.layout.body.place import BodyPlace
from neckmodel.layout.body.recess import Recess
from neckmodel.layout.body.wings import BodyWing
from neckmodel.layout.channel.behind import BackStrip
from neckmodel.layout.channel.cutters import Cutting
from neckmodel.layout.channel.step import EndKind, Step, alone, of_rod
from neckmodel.layout.channel.walls import SectionWall, opening
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.fretboard.marks import SideMark, side_marks
from neckmodel.layout.fretboard.nut import NutPlace, nut_strip
from neckmodel.layout.hardware.clamp import ClampPlace
from neckmodel.layout.hardware.descent import Descent, descents
from neckmodel.layout.hardware.peg import PegPlace
from neckmodel.layout.hardware.posts import HeadWay, head_ways, slotted_ways
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.slots import Roller, SlotPair
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.heel.cap import CapPlace
from neckmodel.layout.key.key import KeyPlace
from neckmodel.layout.neck.back import Back
from neckmodel.layout.neck.outside import Head, Heel, Outside, Point
from neckmodel.layout.neck.section import section_walls
from neckmodel.layout.rod.bars import Bar, is_bar
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.layout.sides import Side, Toward
from neckmodel.layout.stations import Station
from neckmodel.layout.strings.action import StringHeight, plan_action
from neckmodel.layout.strings.frets import Fret, Frets, fret_at
from neckmodel.layout.wood.pieces import Piece
from neckmodel.layout.wood.scarf import Scarf
from neckmodel.layout.wood.strips import Strip
from neckmodel.notebook import Shown

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class Layout(Shown):
    """Every derived number, right-handed for either hand. Lengths mm, angles degrees, in the frame x from the nut, y
    from the centre line, z from the glue plane.

    rods, keys: the rod with its adjusting key, or both rods, bass side first; () without. blank_profile,
    blank_half_width: the sawn blank. board: (length, width, thickness) of the stock once trued, or None.
    pieces: the parts glued to the neck; scarf: None for a head in one piece. steps: as cut where they were measured;
    planned_steps: as the design has them. recesses: pockets in the body for an adjuster at the heel and its key.
    body_wings: parts of the body glued to a neck that runs through. soundhole_way: of a key that enters there. strips:
    that the board is glued up from, bass side first; () for one of one wood. slots: of a slotted head, whose tuners are
    its `rollers`; `tuners` are then (). back_strip: that closes a channel cut from the back. peg: of a string that
    starts later than the nut. clamp: that holds the strings of a neck
    without a head, where stated.
    """

    design: Design
    frets: Frets
    fretboard: Fretboard
    back: Back
    head: Head
    heel: Heel
    outside: Outside
    rods: tuple[RodPlace, ...]
    bars: tuple[Bar, ...]
    steps: tuple[Step, ...]
    planned_steps: tuple[Step, ...]
    cuttings: tuple[Cutting, ...]
    walls: tuple[SectionWall, ...]
    screws: tuple[Screw, ...]
    tuners: tuple[TunerPlace, ...]
    nut: NutPlace
    keys: tuple[KeyPlace, ...]
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
    soundhole_way: SoundholeWay | None = None
    strips: tuple[Strip, ...] = ()
    slots: SlotPair | None = None
    only: int = 0
    back_strip: BackStrip | None = None
    peg: PegPlace | None = None
    clamp: ClampPlace | None = None

    @property
    def name(self) -> str:
        """The design's name."""
        return self.design.name

    @property
    def rod(self) -> RodPlace | None:
        """The rod; of two, which are alike but for their y and its bounds, the one on the bass side. None without."""
        return next(iter(self.rods), None)

    @property
    def key(self) -> KeyPlace | None:
        """The adjusting key; of two rods, in the one on the bass side. None where none is stated."""
        return next(iter(self.keys), None)

    @property
    def in_one(self) -> bool:
        """Whether neck and fretboard are one piece of wood."""
        return self.design.fretboard.in_one

    @property
    def left_handed(self) -> bool:
        """Whether the finished neck is left-handed."""
        return self.design.design.hand == "left"

    @property
    def side_up(self) -> Side:
        """The finished neck's side that lies up in plan, where y counts positive."""
        return Side.BASS if self.left_handed else Side.TREBLE

    def across(self, y: float) -> float:
        """y as it lies on the finished neck, mm. The layout is right-handed; a left-handed neck is its mirror image."""
        return -y if self.left_handed else y

    def end(self, way: Toward) -> str:
        """What the end of the neck that lies this way is called: "head", "body", or "nut end" without a head."""
        return self.head.named if way == Toward.HEAD else way.value

    @property
    def adjuster_end(self) -> str:
        """What the end of the neck is called at which a rod's adjuster lies: "heel", "head" or "nut end"."""
        return self.head.named if self.rod is None or not self.rod.at_heel else self.rod.adjuster_at

    def side(self, way: Toward) -> str:
        """The side of a place that looks this way: "head side", "body side", or "nut end's side" without a head."""
        end = self.end(way)
        return f"{end} side" if end == way.value else f"{end}'s side"

    @cached_property
    def head_ways(self) -> tuple[HeadWay, ...]:
        """The way of each string from the nut to its tuner, bass side first; () where there are more or fewer tuners
        than strings that run on to the head."""
        if self.slots is not None:
            return slotted_ways(self.frets.from_nut, self.slots, self.head)
        return head_ways(self.frets.from_nut, self.tuners, self.head)

    @property
    def rollers(self) -> tuple[Roller, ...]:
        """The tuners of a slotted head, as listed; () for other heads."""
        return () if self.slots is None else self.slots.rollers

    @cached_property
    def descents(self) -> tuple[Descent, ...]:
        """How each string that has a tuner comes down into its slot; () without slots."""
        return () if self.slots is None else descents(self.frets.from_nut, self.slots, self.head)

    @cached_property
    def action(self) -> StringHeight:
        """Heights of the strings and the neck's angle."""
        return plan_action(self.design, self.frets)

    @property
    def fretless(self) -> bool:
        """Whether there are no frets, so that a fret's number only names a position."""
        return self.design.fretboard.fretless is not None

    @cached_property
    def side_marks(self) -> tuple[SideMark, ...]:
        """The side marks of a fretless fretboard, nut first; () where there are frets."""
        return side_marks(self.design.fretboard.fretless, self.fretboard, self.frets)

    @property
    def sawn(self) -> tuple[Fret, ...]:
        """The frets, or lines, whose fret slots are sawn."""
        return self.fretted if self.design.fretboard.slotted else ()

    @property
    def heel_cap(self) -> CapPlace | None:
        """The cap glued under the heel; None without one."""
        heel = self.heel
        if heel.cap is None:
            return None
        half = self.outside.half_width(heel.x_joint) * heel.narrowing(heel.depth)
        return CapPlace(heel.cap, self.outside.x_heel_run_out, heel.x_joint, 2 * half, -heel.depth)

    @property
    def nut_strip(self) -> Fretboard | None:
        """The fretboard wood behind a nut in a groove; None for a nut on a ledge."""
        return nut_strip(self.nut, self.fretboard)

    @property
    def fretted(self) -> tuple[Fret, ...]:
        """Every fret that has a slot, from the nut, a zero fret included."""
        zero = (fret_at(self.frets.spans, 0),) if self.design.fretboard.zero_fret else ()
        return (*zero, *self.frets.frets)

    @property
    def closed_ends(self) -> tuple[Step, ...]:
        """The steps that end within the wood, toward the body. Of a rod that is turned from inside the body none does:
        only bars beside it."""
        steps = [step for step in self.steps if step.end_end != EndKind.OPEN and step.x_end > 0]
        return tuple(step for step in steps if self.soundhole_way is None or is_bar(step.name))

    def alone(self, rod: RodPlace) -> Layout:
        """The layout of one of two rods as if it were the only one: its steps, key and pockets under the names that
        they have with one rod, without the other's and without bars. `only` says which of the two it is."""
        of = rod.suffix
        return replace(
            self,
            rods=(replace(rod, number=0),),
            keys=tuple(replace(key, suffix="") for key in self.keys if key.suffix == of),
            bars=(),
            steps=alone(self.steps, rod.number),
            planned_steps=alone(self.planned_steps, rod.number),
            cuttings=tuple(
                replace(c, step=of_rod(c.step)[0]) for c in self.cuttings if of_rod(c.step)[1] == rod.number
            ),
            walls=tuple(replace(w, step=of_rod(w.step)[0]) for w in self.walls if of_rod(w.step)[1] == rod.number),
            recesses=tuple(replace(r, name=r.name.removesuffix(of)) for r in self.recesses if r.name.endswith(of)),
            only=rod.number,
        )

    @property
    def paired(self) -> bool:
        """Whether two rods lie in the neck."""
        return len(self.rods) > 1

    def of_kind(self, kind: str) -> tuple[Step, ...]:
        """The steps of one kind, of each rod one: every run, every access slot."""
        return tuple(step for step in self.steps if step.kind == kind)

    def rod_of(self, step: Step) -> RodPlace | None:
        """The rod in whose channel a step lies; the rod, where there is one. None without a rod, and for a bar beside
        two."""
        return next((rod for rod in self.rods if rod.number == step.rod), None)

    def full_name(self, step: str) -> str:
        """The name that a step has in the whole channel, and under which it is measured."""
        return f"{step}-{self.only}" if self.only else step

    def step(self, name: str) -> Step:
        """The step of this name. Raises KeyError where the channel has none."""
        for step in self.steps:
            if step.name == name:
                return step
        raise KeyError(name)

    def cutting(self, name: str) -> Cutting | None:
        """How the step of this name is cut; None where no cutters are stated."""
        return next((c for c in self.cuttings if c.step == name), None)

    def wall_at(self, step: Step, x: float) -> float:
        """Least wood round a step within the section at x, mm, by the shaft's own shape (transitions to head and heel
        left out)."""
        round_it = step.width / 2 if step.bored else 0.0
        return float(section_walls([self.back.section(x)], [opening(step, x)])[0]) - round_it
