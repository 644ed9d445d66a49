"""Changes of a design in the words of the bench: what the hand does, or what is bought. All remedies take their words
from here."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from neckmodel.design.defaults.trade import size_words
from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.measured.next import SAYS
from neckmodel.lengths import listed
from neckmodel.units import to_mm

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from neckmodel.design import Design

    Settings = Mapping[str, float | str]
    Left = dict[str, str]  # keys not worded yet, each with its value in words, lengths in mm without their unit

BOARD = (("length", "long"), ("width", "wide"), ("thickness", "thick"))
PHRASES = {
    "rod_place.from_nut": "start the rod {} mm from the nut",
    "bars.from_nut": "start the bars {} mm from the nut",
    "rod.offset": "lay each rod {} mm from the centre line",
    "bars.offset": "lay each bar {} mm from the centre line",
    "rod.length": "a rod {} mm long",
    "bars.length": "bars {} mm long",
    "bars.height": "bars {} mm high",
    "rod.width": "a rod {} mm wide",
    "rod.block.height": "a rod whose block is {} mm high",
    "rod.anchor.height": "a rod whose anchor is {} mm high",
    "rod.anchor.width": "an anchor {} mm wide",
    "rod.adjuster.axis_below_top": "an adjuster whose axis lies {} mm below the rod's top",
    "rod.adjuster.diameter": "an adjuster {} mm in diameter",
    "rod.axis_depth.adjuster": "lay the rod's axis {} mm deep at the adjuster",
    "rod.axis_depth.middle": "lay the rod's axis {} mm deep in the middle",
    "rod.axis_depth.anchor": "lay the rod's axis {} mm deep at the anchor",
    "rod.washer.diameter": "a washer {} mm in diameter",
    "rod.cover_strip.thickness": "a cover strip {} mm thick",
    "heel.depth": "a heel {} mm deep",
    "heel.wood_ends_at": "let the neck's wood end at x {} mm",
    "head.thickness": "a head {} mm thick",
    "head.drop": "step the head down by {} mm",
    "head.angle": "a head at {} degrees",
    "head.length": "a head {} mm long",
    "head.slots.from": "let the slots of the head begin at x {} mm on its face",
    "head.slots.width": "slots {} mm wide in the head",
    "head.slots.edge": "slots {} mm in from the head's sides",
    "head.slots.ramp.length": "ramps that begin {} mm before the slots",
    "head.slots.ramp.angle": "ramps before the slots that fall by {} degrees",
    **{f"head.end.{name}": f"a nut end {{}} mm {word}" for name, word in BOARD},
    "heel.width": "a heel {} mm wide",
    "heel.width.joint": "a heel {} mm wide at the glue plane",
    "heel.width.cap": "a heel {} mm wide at its bottom",
    "board.allowance.back": "leave {} mm on the back for carving",
    "board.allowance.ends": "leave {} mm on the blank at each end",
    "board.allowance.sides": "leave {} mm on the blank at each side",
    "fretboard.ends_at": "let the fretboard end at x {} mm",
    "fretboard.thickness": "a fretboard {} mm thick",
    "fretboard.fret_slot.depth": "saw the fret slots {} mm deep",
    "strings.each.0.peg.depth": "bore the peg's hole {} mm deep",
    "strings.each.0.peg.hole": "a peg whose hole is {} mm across",
    "strings.each.0.peg.below": "set the peg {} mm below the glue plane",
    "channel.adjuster_clearance": "rout the adjuster pocket for {} mm of clearance on the adjuster's diameter",
    "channel.key_clearance": "leave the key {} mm of clearance in its slot",
    "channel.key_swing": "rout the slot so wide that the key turns by {} degrees",
    "channel.wider_by": "rout the channel {} mm wider than what lies in it",
    "adjusting_key.length": "a key {} mm long",
    "adjusting_key.long_arm": "a key whose long arm is {} mm long",
    "adjusting_key.short_arm": "a key whose short arm is {} mm long",
    "adjusting_key.handle.diameter": "a key whose handle is {} mm in diameter",
    "adjusting_key.handle.length": "a key whose handle is {} mm long",
}
WORDS = {
    ("rod_place.from_nut", "auto"): "let the rod lie in the middle of its room",
    ("rod.bar", "up"): "lay the rod with its flat bar up",
    ("rod.bar", "down"): "lay the rod with its flat bar down",
    ("channel.ends", "squared"): "square the channel's end with a chisel",
    ("adjusting_key.arm_in_socket", "long"): "put the key's long arm into the socket",
    ("adjusting_key.arm_in_socket", "short"): "put the key's short arm into the socket",
    ("fretboard.fret_slot.floor", "curved"): "saw the fret slots with a floor that follows the crown",
}
# functions that word several keys as one phrase, in the order of the phrases
TOGETHER = (
    (
        ("rod.length", "rod_place.from_nut"),
        "a rod {} mm long that starts {} mm from the nut",
    ),
    (
        ("neck.thickness.fret_1", "neck.thickness.fret_12"),
        "carve the neck {} mm thick at fret 1 and {} mm at fret 12",
    ),
    (
        ("bars.material", "bars.width", "bars.height", "bars.length"),
        "glue in a bar of {}, {} mm wide, {} mm high and {} mm long",
    ),
    (
        ("fretboard.edge_margin.nut", "fretboard.edge_margin.last_fret"),
        "edge margins of {} mm at the nut and {} mm at the last fret",
    ),
    (
        ("head.outline.near", "head.outline.far"),
        "a head {} mm wide at the head line and {} mm at its end",
    ),
    (
        ("head.slots.ramp.length", "head.slots.ramp.angle"),
        "a ramp before each slot, {} mm long, that falls by {} degrees",
    ),
    (
        ("neck.back.fret_1.fullness", "neck.back.fret_12.fullness"),
        "a fuller back, of fullness {} at fret 1 and {} at fret 12",
    ),
    (
        ("fretboard.width.nut", "fretboard.width.end"),
        "a fretboard {} mm wide at the nut and {} mm at its end",
    ),
)
ALONE = {
    "neck.thickness.fret_1": "carve the neck {} mm thick at fret 1, as it is at fret 12",
    "neck.thickness.fret_12": "carve the neck {} mm thick at fret 12, as it is at fret 1",
}
TENON = {
    "heel.tenon.length": "a {} {} mm long",
    "heel.tenon.width": "a {} {} mm wide at its end",
    "heel.tenon.depth": "a {} {} mm deep",
    "heel.tenon.flare": "cheeks of the {} that widen by {} degrees toward the body",
    "heel.tenon.taper": "cheeks of the {} that lean inward by {} degrees on their way down",
}
HEIGHTS = ("rod.height", "rod.block.height", "rod.anchor.height")
LISTS = r"head\.tuners|head\.clamp\.screws|heel\.screws|workshop\.cutters|body\.braces|board\.strips"
ITEM = re.compile(rf"({LISTS})\.(\d+)\.(\w+)")
PLACES = {
    ("head.tuners", "x"): "{} to x {} mm on the head's face",
    ("head.tuners", "y"): "{} to y {} mm",
    ("head.tuners", "below_face"): "{} to {} mm below the head's face",
    ("heel.screws", "y"): "{} to y {} mm",
    ("head.clamp.screws", "x"): "{} to x {} mm",
    ("head.clamp.screws", "y"): "{} to y {} mm",
    ("head.clamp.screws", "depth"): "{} to a depth of {} mm",
    ("heel.screws", "from_end"): "{} to {} mm from the wood's end",
}


NAMED = {"head.tuners": "tuner", "head.clamp.screws": "clamp-screw", "heel.screws": "screw"}


def worded(design: Design, settings: Settings) -> str:
    """Settings, lengths in mm or with their unit, as a phrase: "a rod 450 mm long"."""
    left = {_planned(key): _value(value) for key, value in settings.items()}
    order = {key: number for number, key in enumerate(left)}
    phrases: list[tuple[int, str]] = []
    for say in SAYING:
        before = [*left]
        found = list(say(design, left))
        first = min((order[key] for key in before if key not in left), default=0)
        phrases += [(first, phrase) for phrase in found]
    for key, value in left.items():
        if key.startswith("measured.channel."):
            _, _, step, what = key.split(".")
            phrases.append((order[key], SAYS[what].format(step_words(step), float(value))))
            continue
        phrase = WORDS.get((key, value)) or (PHRASES | ALONE).get(key, f"{key} = {{}}").format(value)
        phrases.append((order[key], phrase))
    *others, last = [phrase for _, phrase in sorted(phrases, key=lambda pair: pair[0])]
    return f"{', '.join(others)} and {last}" if others else last


def _planned(key: str) -> str:
    """The key to word: a size measured on the present rod is worded as that of another rod; a measured step as a
    cut."""
    return key if key.startswith("measured.channel.") else key.removeprefix("measured.")


def _value(value: float | str) -> str:
    try:
        return size_words(to_mm(value, "mm"))
    except ValueError:  # a word such as "auto"
        return str(value)


def _board(_: Design, left: Left) -> Iterator[str]:
    sizes = [f"{left.pop(key)} mm {word}" for name, word in BOARD if (key := f"board.{name}") in left]
    if sizes:
        yield f"a board {', '.join(sizes)}"


def _strips(_: Design, left: Left) -> Iterator[str]:
    """Strips of other widths, those of one width together."""
    each = [
        f"{'strips' if len(numbers) > 1 else 'strip'} {listed(str(k + 1) for k in numbers)} to {width} mm"
        for width, numbers in _alike(left, "board.strips", "width").items()
    ]
    if each:
        yield f"plane {listed(each)} of width"


def _heights(_: Design, left: Left) -> Iterator[str]:
    """A rod's height with that of its blocks, which never stand above it."""
    if "rod.height" in left:
        heights = [left.pop(key) for key in HEIGHTS if key in left]
        most = max(heights, key=float)
        yield f"a rod {'at most ' if len({*heights}) > 1 else ''}{most} mm high, in a channel that much less deep"


def _pairs(_: Design, left: Left) -> Iterator[str]:
    if "rod.length" in left and left.get("rod_place.from_nut") == "auto":
        del left["rod_place.from_nut"]
        yield f"a rod {left.pop('rod.length')} mm long in the middle of its room"
    for keys, phrase in TOGETHER:
        if all(key in left for key in keys):
            yield phrase.format(*(left.pop(key) for key in keys))


def _tenon(design: Design, left: Left) -> Iterator[str]:
    """Sizes of a tenon, or of a dovetail, by its own name."""
    for key in [*left]:
        if key in TENON:
            yield TENON[key].format("dovetail" if design.heel.kind == "dovetail" else "tenon", left.pop(key))


def _deeper(design: Design, left: Left) -> Iterator[str]:
    """How deep the router cuts, and not how much deeper than the rod the channel is."""
    key = "channel.deeper_by"
    if key in left:
        by = float(left.pop(key)) - design.channel.deeper_by
        yield (
            f"rout the channel {size_words(abs(by))} mm {'deeper' if by > 0 else 'less deep'}, so that the rod lies "
            + ("lower" if by > 0 else "higher")
        )


def _places(_: Design, left: Left) -> Iterator[str]:
    """Tuners and screws moved to another place."""
    moved = []
    for key in [*left]:
        found = ITEM.fullmatch(key)
        if found is not None and (found[1], found[3]) in PLACES:
            name = f"{NAMED[found[1]]}-{int(found[2]) + 1}"
            moved.append(PLACES[found[1], found[3]].format(name, left.pop(key)))
    if moved:
        yield f"move {', '.join(moved)}"


def _alike(left: Left, table: str, size: str) -> dict[str, list[int]]:
    """Which items of a list get which size; those with one size are worded together."""
    found: dict[str, list[int]] = {}
    for key in [*left]:
        item = ITEM.fullmatch(key)
        if item is not None and (item[1], item[3]) == (table, size):
            found.setdefault(left.pop(key), []).append(int(item[2]))
    return found


def _posts(_: Design, left: Left) -> Iterator[str]:
    """Posts, worded by the height at which they hold their strings."""
    for height, numbers in _alike(left, "head.tuners", "string_height").items():
        names = listed(f"tuner-{k + 1}" for k in numbers)
        posts, their = ("posts", "their strings lie") if len(numbers) > 1 else ("post", "its string lies")
        yield f"lower the {posts} of {names} until {their} {height} mm over the head's face"


def _bores(_: Design, left: Left) -> Iterator[str]:
    """Holes of a slotted head, worded by how deep they go into its core."""
    for deep, numbers in _alike(left, "head.tuners", "into_core").items():
        yield f"bore {listed(f'tuner-{k + 1}' for k in numbers)} {deep} mm into the core"


def _screws(design: Design, left: Left) -> Iterator[str]:
    for length, numbers in _alike(left, "heel.screws", "length").items():
        names = ", ".join(f"screw-{k + 1}" for k in numbers)
        kinds = {design.heel.screws[k].kind for k in numbers}
        what = {"wood-screw": "screws", "dowel": "dowels", "insert": "inserts"}[kinds.pop()] if len(kinds) == 1 else ""
        whole = len(numbers) == len(design.heel.screws) and what
        yield f"{what} {length} mm long" if whole else f"{names} {length} mm long"


def _cutters(_: Design, left: Left) -> Iterator[str]:
    says: dict[str, Callable[[str], str]] = {
        "diameter": lambda value: f"a cutter {value} mm in diameter",
        "stick_out": lambda value: f"a cutter that reaches {value} mm out of the collet",
    }
    for key in [*left]:
        found = ITEM.fullmatch(key)
        if found is not None and found[1] == "workshop.cutters" and found[3] in says:
            yield says[found[3]](left.pop(key))


def _braces(_: Design, left: Left) -> Iterator[str]:
    for depth, numbers in _alike(left, "body.braces", "depth").items():
        yield f"{listed(f'brace {k + 1}' for k in numbers)} {depth} mm deep under the top"


SAYING = (
    *(_board, _strips, _heights, _pairs, _tenon, _deeper),
    *(_places, _posts, _bores, _screws, _cutters, _braces),
)
