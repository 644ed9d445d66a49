"""The clamp that holds the strings of a neck without a head, and its screws."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.fretboard.nut import nut_strip
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design import Head as StatedHead
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.fretboard.nut import NutPlace
    from neckmodel.layout.head.head import Head

SLACK = 1e-6  # mm


@dataclass(frozen=True)
class ClampScrew:
    """One screw of the clamp, mm: its axis at (x, y), its hole from the glue plane down to `depth`."""

    name: str
    x: float
    y: float
    diameter: float
    depth: float


@dataclass(frozen=True)
class ClampPlace:
    """The clamp's envelope on the glue plane, mm: from x_start, its far side, to x_end at the nut; half_width either
    side of the centre line. past_end: how far it stands out beyond the neck's end, 0 where it does not."""

    x_start: float
    x_end: float
    half_width: float
    height: float
    past_end: float
    screws: tuple[ClampScrew, ...]


def place_clamp(design: Design, head: Head, nut: NutPlace, board: Fretboard) -> ClampPlace | None:
    """The clamp from the far side of the nut on, or of the fretboard wood behind it, at its farthest corner; None where
    none is stated.

    Raises DesignError where a screw lies outside the clamp, or outside the wood.
    """
    clamp = design.head.clamp
    if clamp is None or design.head.kind != "none":
        return None
    strip = nut_strip(nut, board)
    x_nut = min(x for x, _ in (nut.corners if strip is None else strip.start))
    placed = ClampPlace(
        x_start=x_nut - clamp.length,
        x_end=x_nut,
        half_width=clamp.width / 2,
        height=clamp.height,
        past_end=max(head.x_far - (x_nut - clamp.length), 0.0),
        screws=tuple(
            ClampScrew(f"clamp-screw-{k + 1}", s.x, s.y, s.diameter, s.depth) for k, s in enumerate(clamp.screws)
        ),
    )
    for k, screw in enumerate(placed.screws):
        _refuse_screw(design, k, screw, placed, head)
    return placed


def _refuse_screw(design: Design, k: int, screw: ClampScrew, clamp: ClampPlace, head: Head) -> None:
    """A screw goes through the clamp into the wood."""
    key = f"head.clamp.screws.{k}"
    if screw.x > clamp.x_end - screw.diameter / 2 + SLACK:
        most = no_more(clamp.x_end - screw.diameter / 2)
        raise design.problem(f"{key}.x", "lies at the nut, not in the clamp", f"at most {most}")
    if screw.x < max(clamp.x_start, head.x_far) - SLACK:
        of = "clamp" if clamp.x_start > head.x_far else "neck's wood"
        raise design.problem(
            f"{key}.x", f"lies beyond the end of the {of}", f"at least {no_less(max(clamp.x_start, head.x_far))}"
        )
    most_y = min(clamp.half_width, head.near / 2)
    if abs(screw.y) > most_y + SLACK:
        of = "clamp" if clamp.half_width < head.near / 2 else "nut end"
        raise design.problem(
            f"{key}.y", f"lies beside the {of}", f"at most {no_more(most_y)} either side of the centre line"
        )


def behind_nut(head: StatedHead, nut: float) -> float:
    """How far nut end and clamp reach behind x = 0, mm, for a key that passes beyond both. nut: how far the nut
    reaches, with the fretboard wood behind it."""
    end = 0.0 if head.end is None else head.end.length
    return max(end, nut + (0.0 if head.clamp is None else head.clamp.length))
