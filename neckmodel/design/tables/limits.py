"""`[limits]`."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from neckmodel.design.defaults.assumed import BETWEEN, PEG
from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Mm, Number, Table, spreading

_PLACES = ("run", "block", "anchor", "adjuster", "access_slot", "rod_end", "screw", "tuner", "bar", "washer")
_LATER = ("clamp_screw",)  # what came later; of one stated length it is no content of its own


class WallLimits(Table):
    """Least wood between a cut and the finished skin, by what was cut."""

    run: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the rod run.")
    block: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a block pocket.")
    anchor: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the anchor pocket.")
    adjuster: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the adjuster pocket.")
    access_slot: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the access slot.")
    rod_end: Annotated[float, Length(0, 20)] = Field(description="Limit of the wood beyond the rod's end.")
    screw: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall between channel and screws.")
    tuner: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall between access slot and tuners.")
    bar: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a bar's channel.")
    washer: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a washer's pocket.")
    between: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Limit of the wood between the channels of two rods, and between them and a bar's."
    )

    top: Annotated[Annotated[float, Length(0, 20)] | None, ADDED] = Field(
        None, description="Limit of the wood over a channel cut from the back, to the fret slots; left out, the run's."
    )
    peg: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Limit of the wall between the hole of a string's peg and what lies beside it."
    )
    clamp_screw: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Limit of the wall round the screws of a clamp behind the nut."
    )

    @classmethod
    def spread(cls, value: object) -> object:
        """One length stands for every limit of a wall to the outside or to a hole; not for the wood between two
        rods, nor round a peg, which came later."""
        if isinstance(value, dict | WallLimits):
            return value
        return {**dict.fromkeys(_PLACES + _LATER, value), "between": Mm(BETWEEN), "peg": Mm(PEG)}


class Limits(Table):
    """`[limits]`: what the checks hold their measurements against, by the check's name."""

    wall: Annotated[WallLimits, spreading(WallLimits, Length(0, 20))] = Field(
        description="Least wall: one length, or {run, block, anchor, adjuster, access_slot, ...}."
    )
    glue_nut: Annotated[float, Length(0, 20)] = Field(description="Least glue surface either side at the nut.")
    cover_run: Annotated[float, Length(0, 20)] = Field(
        description="Least width of fretboard beyond the edges of the run and of the adjuster pocket."
    )
    cover_strip: Annotated[float, Length(0, 20)] = Field(
        description="Least thickness of the cover strip over a compression rod."
    )
    cover_back_strip: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Least wood between a rod put in from the back and the carved back."
    )
    place_adjuster: Annotated[float, Length(0, 50)] = Field(
        description='Least gap from the nut to the adjuster; what from_nut = "auto" keeps to.'
    )
    fit_run: Annotated[float, Length(0, 2)] = Field(description="Most play of the rod in its run, in all.")
    fret_slots_edge: Annotated[float, Length(0, 5)] = Field(
        description="Least depth of a fret slot at the fretboard's edge: the seat of the fret's tang."
    )
    heel_screws: Annotated[float, Length(0, 100)] = Field(description="Least bite of a heel screw in the neck.")
    heel_dovetail: Annotated[float, Length(0, 40), ADDED] = Field(
        description="Least wood of a dovetail at its root: beside the channel, and half its width at the bottom."
    )
    heel_shoulder: Annotated[float, Length(0, 40), ADDED] = Field(
        description="Least width of the heel's shoulder beside a dovetail, at any depth."
    )
    head_break_angle: Annotated[float, Number(0, 30, "degrees")] = Field(
        description="Least angle by which a string should bend down over the nut, degrees."
    )
    head_cheek: Annotated[float, Length(0, 40), ADDED] = Field(
        description="Least wood outside a slot of the head: its cheek, and the wood beyond the slot's far end."
    )
    head_core: Annotated[float, Length(0, 60), ADDED] = Field(
        description="Least wood between the slots of the head, where no access slot runs in it."
    )
    head_bores: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Least wood round a hole bored into a slotted head: to face, back, other holes and the slot's end."
    )
    head_ramp: Annotated[float, Length(0, 20), ADDED] = Field(
        description="Least room under a string where it comes down into its slot, over the face and over the ramp."
    )
    strength_relief: Annotated[float, Length(0, 2), ADDED] = Field(
        description="Most relief that the strings are likely to make in a neck with neither rod nor bar."
    )
    access_brace: Annotated[float, Length(0, 50), ADDED] = Field(
        description="Least wood of a brace under the bore of a key that enters through the soundhole, and over it."
    )
    stock_seams: Annotated[float, Length(0, 5), ADDED] = Field(
        description="Least of a strip of the board that should stay on a wall of the channel."
    )
    stock_grain: Annotated[float, Number(0, 1)] = Field(description="Steepest slope of the grain, rise over run.")
