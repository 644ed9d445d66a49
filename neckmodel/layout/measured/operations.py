"""The operations on a neck's wood in the order of work, and which of them are done according to what was measured.

This file alone decides it: the instructions for the next cuts and the remedies both ask here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.design.values.keys import split
from neckmodel.layout.channel.steps import step_words

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout

# operation: (what is worked on, what is done to it)
GLUE_UP, WIDTH, LENGTH, HEAD, HEEL, SHAFT = "glue-up", "width", "length", "head", "heel", "shaft"
ON, OUTLINE, END = "fretboard-on", "outline", "end"
SLOTS = "head.slots"
CARVE_1, CARVE_12 = "carve-1", "carve-12"
BOARD, MADE, LAID = (
    "board",
    "fretboard-made",
    "rod-laid",
)  # these do not cut the neck's own wood, or are no operation of their own
WORDS = {
    BOARD: ("the board", "sawn"),
    GLUE_UP: ("the blank", "glued up"),
    WIDTH: ("the blank", "sawn to width"),
    LENGTH: ("the blank", "sawn to length"),
    HEAD: ("the head", "sawn"),
    HEEL: ("the heel", "sawn"),
    SHAFT: ("the shaft", "sawn"),
    MADE: ("the fretboard", "cut to size"),
    OUTLINE: ("the head's outline", "sawn"),
    END: ("the heel", "cut to length"),
}
# beginning of a key: the operation that is done if that length was measured; the longest beginning counts
SHOWN_BY = {
    "head.drop": HEAD,
    "head.thickness": HEAD,
    "head.starts_at": HEAD,
    "head.length": OUTLINE,
    "head.outline.": OUTLINE,
    "head.swell_length": OUTLINE,
    "head.volute.": OUTLINE,
    "head.wings.": OUTLINE,
    "head.slots.": SLOTS,
    "head.end.thickness": HEAD,
    "head.end.": OUTLINE,
    "heel.depth": HEEL,
    "heel.tenon.": HEEL,
    "heel.tenon.length": END,
    "heel.wood_ends_at": END,
    "heel.width": OUTLINE,
    "heel.corner_radius": OUTLINE,
    "heel.swell_from": OUTLINE,
    "neck.thickness.fret_1": CARVE_1,
    "neck.thickness.fret_12": CARVE_12,
    "fretboard.": MADE,
    "board.": BOARD,
}
CLAMP = "head.clamp.screws."
NUT_END = {HEAD: ("the nut end", "sawn"), OUTLINE: ("the nut end's outline", "sawn")}  # where there is no head
HOLES = {
    "heel.screws.": ("from_end", "y"),
    "head.tuners.": ("x", "y", "hole", "below_face", "into_core"),
    CLAMP: ("x", "y", "diameter", "depth"),
}  # their other sizes are of the hardware
CHANNEL = "channel."


@dataclass(frozen=True)
class Done:
    """Names of operations. order: all of this neck's, in the order of work. surely: shown by a measured size, or
    necessary before one that is; likely: earlier in the order of work, or near it.

    A neck's thickness is measured over its fretboard; once it is measured, the fretboard is on and the channel closed.
    """

    order: tuple[str, ...]
    surely: frozenset[str]
    likely: frozenset[str]

    @property
    def closed(self) -> bool:
        """Whether the fretboard is on, and nothing under it can be changed."""
        return ON in self.surely

    @property
    def begun(self) -> bool:
        """Whether anything is cut, so that another board can no longer be taken."""
        return any(name in self.surely for name in self.order)


def step_cut(step: str) -> str:
    """The operation that cuts a step of the channel."""
    return CHANNEL + step


def stages_of(layout: Layout) -> tuple[tuple[str, ...], ...]:
    """Every operation of this neck, in stages, in the order of work (common practice, no source). Within a stage makers
    differ: some rout the channel first, others saw the side profile first."""
    steps = tuple(step_cut(step.name) for step in layout.steps)
    screws = tuple(f"heel.screws.{k}" for k in range(len(layout.screws)))
    tuners = tuple(f"head.tuners.{k}" for k in range(len(layout.tuners) + len(layout.rollers)))
    slots = () if layout.slots is None else (SLOTS,)
    clamp = () if layout.clamp is None else tuple(f"{CLAMP}{k}" for k in range(len(layout.clamp.screws)))
    shaped = (OUTLINE, *screws, *tuners, *slots, *clamp, END)
    return (GLUE_UP, WIDTH, LENGTH), (HEAD, HEEL, SHAFT, *steps), shaped, (ON,), (CARVE_1,), (CARVE_12,)


def done(layout: Layout) -> Done:
    """Which operations on this neck are done."""
    stages, measured = stages_of(layout), layout.design.measured or ()
    order = tuple(name for stage in stages for name in stage)
    surely = {name for key, _ in measured if (name := shown_by(key)) is not None}
    if surely & {CARVE_1, CARVE_12}:
        surely |= {GLUE_UP, WIDTH, SHAFT, ON, MADE, LAID}
        surely |= {name for name in order if name.startswith(CHANNEL)}
    # a board not cut yet can still be replaced by another one; so can a fretboard that is not glued on
    made = {MADE} & surely if ON not in surely else set()
    surely -= {BOARD} | made
    last = max((k for k, stage in enumerate(stages) if surely & set(stage)), default=-1)
    if last >= 0:
        surely.add(BOARD)
    before = {name for stage in stages[: last + 1] for name in stage} - {CARVE_1, CARVE_12}
    return Done(order, frozenset(surely), frozenset(before | made) - surely)


def shown_by(key: str) -> str | None:
    """The operation that must be done if the length of this key was measured; None for a size of a bought part."""
    key = ".".join(str(part) for part in split(key))
    if key.startswith(CHANNEL):
        return key.rpartition(".")[0]
    for begin, kept in HOLES.items():
        if key.startswith(begin):
            hole, _, what = key.rpartition(".")
            return hole if what in kept else None
    fitting = [begin for begin in SHOWN_BY if key.startswith(begin)]
    return SHOWN_BY[max(fitting, key=len)] if fitting else None


def not_yet(layout: Layout, names: Iterable[str]) -> str:
    """Words saying that none of these operations is done yet: "the head and the heel are not sawn yet"; empty for
    none."""
    by_verb: dict[str, list[tuple[str, bool]]] = {}
    for subject, many, verb in _words(layout, tuple(names)):
        if (subject, many) not in by_verb.setdefault(verb, []):
            by_verb[verb].append((subject, many))
    return " and ".join(_said(verb, subjects) for verb, subjects in by_verb.items())


def _said(verb: str, subjects: list[tuple[str, bool]]) -> str:
    many = len(subjects) > 1 or subjects[0][1]
    return f"{_listed([subject for subject, _ in subjects])} {'are' if many else 'is'} not {verb} yet"


def _words(layout: Layout, names: tuple[str, ...]) -> Iterator[tuple[str, bool, str]]:
    """(what is worked on, whether that is plural, what is done to it) for each operation; all holes together."""
    words = WORDS | NUT_END if layout.head.is_none else WORDS
    for name in names:
        if name.startswith(CHANNEL):
            yield f"the {step_words(name.removeprefix(CHANNEL))}", False, "cut"
        elif name == SLOTS:
            yield "the head's slots", True, "cut"
        elif name in words:
            yield words[name][0], False, words[name][1]
    bored = [tuner.name for tuner in layout.tuners] + [roller.name for roller in layout.rollers]
    screwed = [screw.name for screw in layout.screws]
    clamp = [] if layout.clamp is None else [screw.name for screw in layout.clamp.screws]
    drills = (("heel.screws.", "heel", screwed), ("head.tuners.", "head", bored), (CLAMP, "clamp", clamp))
    for where, part, placed in drills:
        drilled = [int(name.removeprefix(where)) for name in names if name.startswith(where)]
        if len(drilled) == len(placed) > 1:
            yield f"the {part}'s holes", True, "drilled"
        elif drilled:
            of = _listed([placed[k] for k in drilled])
            yield f"the hole{'s' if len(drilled) > 1 else ''} of {of}", len(drilled) > 1, "drilled"


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
