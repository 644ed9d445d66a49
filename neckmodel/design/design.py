"""The design: every stated value of a design file, validated, in mm, with the defaults filled in."""

from __future__ import annotations

import hashlib
import json
from functools import cached_property
from typing import Annotated

from pydantic import Field, PrivateAttr

from neckmodel.design.defaults.defaults import DEFAULTS
from neckmodel.design.file.source import Source
from neckmodel.design.tables.board import Allowance, Board
from neckmodel.design.tables.body import Body
from neckmodel.design.tables.channel import Channel
from neckmodel.design.tables.fretboard import Fretboard
from neckmodel.design.tables.head import Head
from neckmodel.design.tables.heel import Heel
from neckmodel.design.tables.info import Info
from neckmodel.design.tables.key import AdjustingKey
from neckmodel.design.tables.limits import Limits
from neckmodel.design.tables.measured import OF_A_STEP, SECTIONS, Calibration, Measured
from neckmodel.design.tables.neck import Neck
from neckmodel.design.tables.rod import Bars, Rod, RodPlace
from neckmodel.design.tables.seasons import Seasons
from neckmodel.design.tables.strings import Action, Nut, Strings
from neckmodel.design.tables.woods import Woods
from neckmodel.design.tables.workshop import Workshop
from neckmodel.design.values import fields
from neckmodel.design.values.added import without_added
from neckmodel.design.values.keys import Facts, Path, look_up, split
from neckmodel.design.values.kinds import Table
from neckmodel.errors import DesignError
from neckmodel.notebook import Shown


def is_measure(path: Path) -> bool:
    """Whether this path, without "measured", names a length that can be measured: one that a design states, or one
    of a step of the channel."""
    if len(path) == 3 and path[0] == "channel":
        return path[2] in OF_A_STEP
    field = fields.field_at(Design, path) if path and path[0] in SECTIONS else None
    return field is not None and fields.is_length(field)


def measures_below(path: Path) -> tuple[str, ...]:
    """The names that may stand below a path of [measured]; none where it depends on the design which (the steps)."""
    if not path:
        return (*SECTIONS, "channel")
    if path[0] == "channel":
        return OF_A_STEP if len(path) == 2 else ()
    return tuple(fields.fields(fields.tables_at(Design, path)))


class Design(Table, Shown):
    """One instrument's neck, as a maker states it. Lengths in mm, angles in degrees, forces in N."""

    design: Info = Field(description="What the file is.")
    strings: Strings = Field(description="The strings: how many, how long, how far apart.")
    action: Action = Field(description="How high the strings lie.")
    nut: Nut = Field(description="The nut.")
    fretboard: Fretboard = Field(description="The fretboard.")
    neck: Neck = Field(description="The shaft of the neck.")
    heel: Heel = Field(description="Where the neck meets the body.")
    body: Body = Field(description="What of the body limits the neck.")
    head: Head = Field(description="The head.")
    rod: Rod | None = Field(None, description="The truss rod, as measured.")
    adjusting_key: AdjustingKey | None = Field(None, description="The key that turns the adjuster.")
    rod_place: RodPlace = Field(description="Where the rod goes.")
    channel: Channel = Field(description="How the channel is cut.")
    bars: Bars | None = Field(None, description="Glued bars, beside the rod or instead of it.")
    board: Board | None = Field(None, description="The board the neck is made from.")
    workshop: Workshop = Field(description="Cutters, machines and tolerances.")
    limits: Limits = Field(description="Limits of the checks.")
    seasons: Seasons = Field(description="The air that the instrument will live in.")
    woods: Woods | None = Field(None, description="Own values of woods, by name: [woods.plum] and so on.")
    measured: Annotated[tuple[tuple[str, float], ...], Measured(is_measure, measures_below)] | None = Field(
        None, description="What was found at the bench: any stated length, as cut; channel.<step> too."
    )
    calibration: Calibration | None = Field(None, description="What was found on finished necks or bare rods.")

    _source: Source = PrivateAttr(default_factory=Source)
    _plan: Design | None = PrivateAttr(default=None)

    @property
    def name(self) -> str:
        """The design's name, from `[design] name`."""
        return self.design.name

    @property
    def source(self) -> Source:
        """File name, text and raw tables that the design was read from."""
        return self._source

    @property
    def plan(self) -> Design:
        """The design as planned, without the measured values; the design itself where nothing was measured."""
        return self if self._plan is None else self._plan

    @property
    def allowance(self) -> Allowance:
        """Extra wood on the blank: as `[board]` states it, or the usual amounts where the file has no board."""
        if self.board is not None:
            return self.board.allowance
        return Allowance.model_validate(
            {name: DEFAULTS[f"board.allowance.{name}"] for name in ("sides", "ends", "back")}
        )

    @cached_property
    def sha256(self) -> str:
        """SHA-256 (hex) of the validated content in a canonical form; how the file wrote it makes no difference."""
        dumped = without_added(self.model_dump(mode="json", by_alias=True), (Design,), self._default)
        content = json.dumps(dumped, sort_keys=True, separators=(",", ":"))
        return hashlib.sha256(content.encode()).hexdigest()

    def _default(self, key: str) -> object:
        """What stands at a dotted key where the file leaves it out; None where it has no default."""
        default = DEFAULTS.get(key)
        return default(Facts(self._source.raw)) if callable(default) else default

    def stated(self, key: str) -> bool:
        """Whether the file, or an override, states this dotted key itself. False where a default was taken."""
        return self._source.stated(split(key))

    def problem(self, key: str, says: str, allowed: str = "", attempt: str = "") -> DesignError:
        """An error about one value, with file, line and the value as stated (or the default) filled in."""
        path = split(key)
        default = look_up(self.model_dump(by_alias=True), path)
        return DesignError([self._source.problem(path, says, allowed, attempt, default)], self._source.file)
