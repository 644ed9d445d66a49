"""What must hold of a string that starts later than the nut, of the step beside it, and of its peg."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.neck import at_fret
from neckmodel.design.rules.rule import Broken, at_least, at_most, length, needs
from neckmodel.design.tables.strings import Peg

_FIRST = "strings.each.0"
_EARLIEST = 2  # fret; between it and the nut there is no room for a step
_TO_JOINT = 2  # frets that stay between it and the joint


@needs("strings", "neck", "fretboard")
def starts_later(design: Design) -> Iterator[Broken]:
    """Only the first single string starts later, at a whole fret between the second and the joint's last but one."""
    strings, key = design.strings, f"{_FIRST}.starts_at_fret"
    for index, string in enumerate(strings.each[1:], 1):
        if string.starts_at_fret is not None:
            says = "is stated of another string than the first"
            attempt = "only the string on the bass side starts later; a left-handed neck is its mirror image"
            yield Broken(f"strings.each.{index}.starts_at_fret", says, attempt=attempt)
        elif string.peg is not None:
            says = "is stated of a string that starts at the nut"
            yield Broken(f"strings.each.{index}.peg", says, attempt="its tuner stands in head.tuners")
    first = strings.later
    if first is None:
        if strings.each and strings.each[0].peg is not None:
            says = "is stated of a string that starts at the nut"
            yield Broken(
                f"{_FIRST}.peg", says, attempt="state starts_at_fret beside it, or list its tuner in head.tuners"
            )
        return
    if strings.paired:
        yield Broken(key, "is stated of paired courses", attempt="a string that starts later stands alone")
    if not strings.scale.single:
        says = "is stated beside two scale lengths: the step before a slanted fret has no plan here"
        yield Broken(key, says, attempt="one scale length")
    if design.fretboard.fretless is not None:
        yield Broken(key, "is stated beside fretless: there is no fret for it to start at", attempt="leave one out")
    if design.fretboard.width is not None:
        says = "is stated beside a string that starts later"
        yield Broken(
            "fretboard.width", says, attempt="state edge_margin, of the strings that lie outermost at each place"
        )
    most = design.neck.joint_fret - _TO_JOINT
    if first.starts_at_fret is not None and not _EARLIEST <= first.starts_at_fret <= most:
        yield Broken(key, "lies too near to the nut or to the joint", f"allowed are {_EARLIEST} to {most}")


@needs("strings", "neck", "fretboard")
def step(design: Design) -> Iterator[Broken]:
    """The bass side widens between the nut and the string's own start."""
    first, board = design.strings.later, design.fretboard
    if first is None or first.starts_at_fret is None:
        if board.step_at_fret is not None:
            says = "is stated, and no string starts later than the nut"
            yield Broken("fretboard.step_at_fret", says, attempt=f"leave it out, or state {_FIRST}.starts_at_fret")
        return
    at = first.starts_at_fret if board.step_at_fret is None else board.step_at_fret
    if at > first.starts_at_fret:
        says = f"lies beyond fret {first.starts_at_fret}, where the string starts"
        yield Broken("fretboard.step_at_fret", says, f"allowed is at most {first.starts_at_fret}")
    room = at_fret(design, at)
    if board.step_length > room:
        yield Broken("fretboard.step_length", f"reaches past the nut from fret {at}", at_most(room))


@needs("strings", "neck", "fretboard")
def peg(design: Design) -> Iterator[Broken]:
    """A peg stands on the head side of the fret, and states what its kind needs."""
    first = design.strings.later
    if first is None or first.peg is None or first.starts_at_fret is None:
        return
    found, start = first.peg, at_fret(design, first.starts_at_fret)
    if found.x >= start:
        says = f"lies beyond fret {first.starts_at_fret}, where the string starts"
        yield Broken(f"{_FIRST}.peg.x", says, at_most(start))
    if found.x <= 0:
        yield Broken(f"{_FIRST}.peg.x", "lies on the head", at_least(0.01), "a tuner there stands in head.tuners")
    yield from _stated(found)


def _stated(found: Peg) -> Iterator[Broken]:
    needed, other = ("below", "y") if found.from_ == "side" else ("y", "below")
    if getattr(found, needed) is None:
        yield Broken(f"{_FIRST}.peg.{needed}", "is missing", f"a peg from the {found.from_} needs it")
    if getattr(found, other) is not None:
        says = f"is stated of a peg from the {found.from_}"
        yield Broken(f"{_FIRST}.peg.{other}", says, attempt=f"leave it out; {needed} tells its place")
    if found.from_ == "side" and found.below is not None and found.below <= found.hole / 2:
        says = "brings the hole out through the glue plane"
        yield Broken(f"{_FIRST}.peg.below", says, f"allowed is more than {length(found.hole / 2)}")
