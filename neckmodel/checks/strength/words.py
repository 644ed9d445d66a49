"""The words of strength/rod: turns, reach, what is assumed about the rod, and the pressure of its ends on the wood."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.rod.way import turned_words
from neckmodel.strength.rod.compression import CompressionRod

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.estimate import Strength
    from neckmodel.strength.rod.reach import RodEstimate


ALONE = (
    "Turns and forces are of each rod. One turned alone also twists the neck, by how much is not estimated: turn both, "
    "a little at a time"
)


def rod_words(layout: Layout, strength: Strength, rod: RodEstimate) -> str:
    """The whole text of strength/rod."""
    wanted = layout.design.action.wanted_relief
    says = [f"{_turns(rod, wanted)}; {_reach(rod, wanted)}", *_assumed(rod)]
    if len(layout.rods) > 1:
        says[0] = f"both rods turned alike: {says[0]}"
        says.append(ALONE)
    if layout.rod is not None and layout.rod.bar is not None:
        says.append(turned_words(layout.rod.bar))
    if rod.blocks is not None and rod.blocks_high is not None:
        most = rod.blocks_high.pressure
        ends = f"Its ends press the wood with {rod.blocks.pressure:.1f} MPa, at its largest setting with {most:.1f} MPa"
        if rod.across is not None:
            ends += f"; {strength.neck.name} bears {rod.across:.1f} MPa across the grain"
            ends += ", and is dented beyond that" if most > rod.across else ""
        says.append(ends)
    return ". ".join(says)


def _turns(rod: RodEstimate, wanted: float) -> str:
    turns = [setting.turns for setting in (rod.least, rod.likely, rod.most)]
    low, high = min(turns), max(turns)
    if rod.slack:
        return (
            f"with the rod slack the strings bow the neck by {wanted + rod.likely.need:.2f} mm, less than the "
            f"{wanted:.2f} mm wanted, and the rod cannot add any: it is left slack (up to {high:.2f} of a turn over "
            "wood and years)"
        )
    other = "; minus is the other way, which adds relief" if low < 0 else ""
    does = "sets" if rod.likely.spare >= 0 else "is all that the rod can do toward"
    return (
        f"{rod.likely.turns:.2f} of a turn ({low:.2f} to {high:.2f} over wood and years{other}) {does} {wanted:.2f} mm "
        "of relief"
    )


def _reach(rod: RodEstimate, wanted: float) -> str:
    worst = rod.worst
    if worst.need < 0 and not rod.rod.adds:
        least = wanted + worst.need
        return (
            f"where the neck is stiffest the strings alone bow it by {least:.2f} mm, {-worst.need:.2f} mm less "
            "than wanted, which no turn adds"
        )
    does = "take out" if worst.need >= 0 else "add"
    says = f"where it has least to spare it must {does} {abs(worst.need):.2f} mm and can {worst.reach:.2f} mm"
    return says if rod.rod.adds else f"{says}; it cannot add any"


def _assumed(rod: RodEstimate) -> list[str]:
    thread = f"a thread with a pitch of {_pitch(rod)} mm"
    if isinstance(rod.rod, CompressionRod):
        return [
            f"Turns count from where its nut just touches, with the strings at pitch; {thread} is assumed, and is not "
            "varied",
            f"It pulls with {rod.likely.force:.0f} N ({rod.least.force:.0f} to {rod.force_high:.0f} N)",
        ]
    says = ["It is counted as a two-way rod of its size that bends one way only"] if not rod.rod.adds else []
    if rod.measured:
        return [*says, "Turns follow the bow measured on the bare rod"]
    return [*says, f"A flat bar and {thread} are assumed, and are not varied"]


def _pitch(rod: RodEstimate) -> str:
    """The pitch with all its decimals, for coarse threads have 0.35, 1.25 and the like."""
    return f"{rod.rod.thread:.2f}".rstrip("0").rstrip(".")
