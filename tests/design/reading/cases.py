"""Design files with mistakes. What each must be told, word for word, stands in messages.txt under its name."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Case:
    """siskin.toml with each first text replaced by its second, and values set over it."""

    name: str
    edits: tuple[tuple[str, str], ...] = ()
    sets: tuple[str, ...] = ()


def _one(name: str, was: str, becomes: str) -> Case:
    return Case(name, ((was, becomes),))


def _set(name: str, value: str) -> Case:
    return Case(name, sets=(value,))


def _read(name: str, *readings: str, sets: tuple[str, ...] = ()) -> Case:
    """Readings under [calibration]; the design's board is 700 x 65 x 24 mm."""
    return Case(name, (("[board]", "\n".join(("[calibration]", *readings, "[board]"))),), sets)


_EVERYTHING = (Path(__file__).parent / "siskin.toml").read_text(encoding="utf-8")
_ROD = """[rod]
kind = "two-way"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
"""
_BARS = "[bars]\nwidth = 4.0\nheight = 9.0\nlength = 300.0\n"
_BOW = "[calibration]\nrod_bow_per_turn = 4\n"
_PULLED = _BOW + _ROD.replace('"two-way"', '"compression"\ndiameter = 5\naxis_depth = {adjuster=6, middle=9, anchor=6}')
_BLANK = ("weight = 50.0", "span = 600.0", "sag = 0.22")
_SAG = "\n".join(("[calibration]", *_BLANK, ""))

_MANY_INCHES = (
    ("spacing_at_nut = 35.4", "spacing_at_nut = 1.4"),
    ("spacing_at_bridge = 52.5", "spacing_at_bridge = 2.1"),
    ("past_last_fret = 8.0", "past_last_fret = 0.3"),
    ("edge_margin = 3.6", "edge_margin = 0.14"),
    ("wood_ends_at = 468.41", "wood_ends_at = 18.5"),
    ("length = 420.0", "length = 16.5"),
    ("length = 190.0", "length = 7.5"),
)

CASES: tuple[Case, ...] = (
    # misspelt, misplaced, missing
    _one("misspelt key", "height = 9.2", "heigth = 9.2"),
    _one("misspelt section", "[fretboard]", "[fretbord]"),
    _one("key of another section", 'back = "C"', 'back = "C"\nfrom_nut = 4.0'),
    _one("key nobody knows", 'units = "mm"', 'units = "mm"\ncolour = "red"'),
    _one("section nobody knows", "[board]", "[bridge]\nx = 1\n[board]"),
    _one("key missing", "length = 420.0\n", ""),
    _one("choice missing", 'kind = "two-way"\n', ""),
    Case("no rod and no bars", ((_ROD, ""),)),
    # wrong kinds of value
    _one("text for a number", "frets = 22", 'frets = "22"'),
    _one("half a fret", "frets = 22", "frets = 22.5"),
    _one("true for a number", "frets = 22", "frets = true"),
    Case("number for a section", ((_ROD, ""),), ("rod=5",)),
    _one("number for a table", "thickness = {fret_1 = 20.5, fret_12 = 22.5}", "thickness = 20.5"),
    _set("number for an adjuster", "rod.adjuster=4"),
    _one("number for a text", 'name = "siskin"', "name = 7"),
    _one("table for true", 'units = "mm"', 'units = "mm"\n[fretboard.zero_fret]\n'),
    _one("list for a table", "thickness = {fret_1 = 20.5, fret_12 = 22.5}", "thickness = [20.5, 22.5]"),
    _one("table for a list", "screws = [", "screws = {a = 1}\nunused = ["),
    _one("unknown word", 'kind = "two-way"', 'kind = "twoway"'),
    _one("unknown family", 'back = "C"', 'back = {family = "c", fulness = 2.1}'),
    # lengths
    _one("decimal comma in quotes", "scale = 640.0", 'scale = "640,5 mm"'),
    _one("number in quotes", "thickness = 6.0\n", 'thickness = "6.0"\n'),
    _one("unit nobody knows", "length = 420.0", 'length = "4.2 dm"'),
    _one("inches without saying so", "scale = 640.0", "scale = 25.2"),
    _one("centimetres without saying so", "length = 420.0", "length = 42.0"),
    _one("division by nothing", "height = 9.2", 'height = "1/0 in"'),
    _one("not a number", "edge_margin = 3.6", "edge_margin = nan"),
    _one("no end", "length = 700.0", "length = inf"),
    _one("beyond all bounds", "length = 700.0", "length = 1e300"),
    _one("inches throughout", 'units = "mm"', 'units = "in"'),
    Case(
        "some numbers in inches",
        (("scale = 640.0", "scale = 25.2"), ("height = 9.2", "height = 0.36"), ("width = 65.0", "width = 2.5")),
    ),
    Case("more numbers in inches than told", _MANY_INCHES),
    Case("in bounds, but sensible in inches only", (("from_nut = 7.0", "from_nut = 0.28"),)),
    _one("fraction without a unit in mm", "thickness = 6.0", 'thickness = "1/4"'),
    _one("default that follows from what is stated", "[board]", "[body]\nthickness = 12.0\n[board]"),
    _one("drawn on the wrong side of the nut", "[heel]", "[head]\nstarts_at = 6.0\n[heel]"),
    _one("bass side shorter", "scale = 640.0", "scale = {bass = 640.0, treble = 660.0, square_fret = 7}"),
    _one("negative number of strings", "courses = 6", "courses = -6"),
    _one("negative", "width = 6.0", "width = -6.0"),
    _one("word for a length", "from_nut = 7.0", 'from_nut = "atuo"'),
    # names and texts
    _one("name that climbs", 'name = "siskin"', 'name = "../siskin"'),
    _one("name that is a path", 'name = "siskin"', 'name = "/tmp/siskin"'),
    _one("hidden name", 'name = "siskin"', 'name = ".siskin"'),
    _one("name without end", 'name = "siskin"', f'name = "{"a" * 65}"'),
    _one("escape sequence in a text", 'units = "mm"', 'units = "mm"\nremark = "\\u001b[2J"'),
    _one("letters that turn round", 'units = "mm"', 'units = "mm"\nremark = "\\u202etxt"'),
    _one("no day", 'units = "mm"', 'units = "mm"\ndate = "2031-02-30"'),
    _one("no note", 'note = "G3"', 'note = "H3"'),
    _one("note by its usual name", 'note = "E2"', 'note = "low E"'),
    # what does not go together
    _one("too few strings listed", '  {note = "E4", diameter = 0.254, material = "steel"},\n', ""),
    _one("mass and material", "diameter = 1.17, mass", 'diameter = 1.17, material = "steel", mass'),
    _one("narrower at the bridge", "spacing_at_bridge = 52.5", "spacing_at_bridge = 30.0"),
    _one("strings too close", "spacing_at_nut = 35.4", "spacing_at_nut = 19.0"),
    _one("fretboard too wide", "spacing_at_bridge = 52.5", "spacing_at_bridge = 110.0"),
    _one("joint beyond the frets", "joint_fret = 16", "joint_fret = 24"),
    _one("fret slot through the fretboard", "depth = 2.3", "depth = 6.0"),
    Case(
        "no wood under the fretboard", (("thickness = 6.0\n", "thickness = 9.0\n"), ("fret_1 = 20.5", "fret_1 = 12.5"))
    ),
    _one("thin at the nut", "{fret_1 = 20.5, fret_12 = 22.5}", "{fret_1 = 12.0, fret_12 = 34.0}"),
    _one("rod of blocks only", "length = 420.0", "length = 50.0\nblock.length = 25\nanchor.length = 25"),
    _one("axis below the rod", "axis_below_top = 4.2", "axis_below_top = 12"),
    _one("key too large", 'kind = "straight"', 'kind = "straight"\nsize = 5'),
    _one("L-key without arms", 'kind = "straight"', 'kind = "L-key"'),
    _one("two ways to end", "past_last_fret = 8.0", "past_last_fret = 8.0\nends_at = 470"),
    _one("wood ends before the joint", "wood_ends_at = 468.41", "wood_ends_at = 380"),
    _one("head line under the nut", "[heel]", "[head]\nstarts_at = -3\n[heel]"),
    # measured at the bench
    _one("measured, too large", "[board]", "[measured]\nneck.thickness.fret_1 = 99.0\n[board]"),
    _one("measured, without the part", "[board]", "[measured]\nbars.width = 4.0\n[board]"),
    _one("measured, but never stated", "[board]", "[measured]\nneck.depth = 20.6\n[board]"),
    # readings that could not be used
    _read("relief strung alone", "relief_strung = 0.3"),
    _read("weight and span without a sag", "weight = 50.0", "span = 500.0"),
    _read("relief swapped", "relief_unstrung = 0.3", "relief_strung = 0.1"),
    _read("relief that did not change", "relief_unstrung = 0.1", "relief_strung = 0.1"),
    _read("sag of nothing", "weight = 50.0", "span = 500.0", "sag = 0"),
    _read("sag too small to be read", "weight = 50.0", "span = 500.0", "sag = 0.14"),
    _read("rod that does not bow", "rod_bow_per_turn = 0"),
    _read("span longer than the board", "weight = 50.0", "span = 700.1", "sag = 0.3"),
    _read("span too short", "weight = 50.0", "span = 335.9", "sag = 0.2"),
    _read(
        "span too short on a thick board", "weight = 50.0", "span = 500.0", "sag = 0.2", sets=("board.thickness=60",)
    ),
    _read("span too short on the board as found", *_BLANK, "[measured]", "board.thickness = 43.0"),
    _read("sag of no wood, too soft", "weight = 50.0", "span = 500.0", "sag = 0.8"),
    _read("sag of no wood, too stiff", "weight = 500.0", "span = 400.0", "sag = 0.17"),
    Case("sag without a board", (("[board]\nlength = 700.0\nwidth = 65.0\nthickness = 24.0\n", _SAG),)),
    Case("rod's bow without a rod", ((_ROD, _BOW + _BARS),)),
    Case("rod's bow on a compression rod", ((_ROD, _PULLED),)),
    # not TOML
    _one("decimal comma", "scale = 640.0", "scale = 640,0"),
    _one("unit without quotes", "scale = 640.0", "scale = 25.2 in"),
    _one("text without quotes", 'back = "C"', "back = C"),
    _one("section twice", "[board]", "[rod]\n[board]"),
    _one("key twice", "frets = 22", "frets = 22\nfrets = 21"),
    _one("list left open", "]\n\n[fretboard]", "\n[fretboard]"),
    _one("quote left open", 'name = "siskin"', 'name = "siskin'),
    # set from outside
    _set("set without a value", "rod.length"),
    _set("set out of bounds", "rod.length=4200"),
    _set("set an unknown key", "rod.lenght=420"),
    _set("set a screw that is not there", "heel.screws.4.y=3"),
    _set("set inside a number", "rod.length.x=3"),
    Case(
        "many at once",
        (('units = "mm"', 'unit = "mm"'), ("frets = 22", "frets = 0"), ("width = 65.0", 'width = "wide"')),
        ("rod.length=nan", "action.at_12=18"),
    ),
    Case("every section missing", ((_EVERYTHING, ""),)),
)
