"""Random designs over the whole stated range, some of them impossible: as tables, as text, or as read.

Each draw leans on the numbers drawn before it (a rod is about as long as the neck, tuners lie on the head), so that
most designs can be laid out; now and then one number is drawn from its whole range instead.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from neckmodel.design import Design, read_text

Tables = dict[str, dict[str, Any]]

FAMILIES = ("C", "D", "U", "V", "soft-V")


def toml(value: object) -> str:
    """One value as TOML writes it; tables inline."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(toml(item) for item in value) + "]"
    return repr(value)


def text_of(tables: Tables) -> str:
    """A design file's text."""
    sections = (
        f"[{name}]\n" + "".join(f"{key} = {toml(value)}\n" for key, value in table.items())
        for name, table in tables.items()
    )
    return "\n".join(sections)


def design_of(tables: Tables) -> Design:
    """The design as read; raises DesignError where the reader refuses it."""
    return read_text(text_of(tables))


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in steps of 0.05 mm, ends included."""
    return st.integers(round(low * 20), round(high * 20)).map(lambda n: n / 20)


@st.composite
def backs(draw: st.DrawFn) -> object:
    """A family, a stated fullness and lean, or two of them blended."""

    def one() -> dict[str, Any]:
        back: dict[str, Any] = {"family": draw(st.sampled_from(FAMILIES))}
        if draw(st.booleans()):
            back["fullness"] = draw(sizes(1.3, 4.0))
        if draw(st.booleans()):
            back["lean"] = draw(sizes(-5, 5))
        return back

    kind = draw(st.sampled_from(("word", "one", "two")))
    if kind == "word":
        return draw(st.sampled_from(FAMILIES))
    return one() if kind == "one" else {"fret_1": one(), "fret_12": one()}


@st.composite
def keys(draw: st.DrawFn, size: float) -> dict[str, Any] | None:
    kind = draw(st.sampled_from(("none", "straight", "L-key", "L-key")))
    if kind == "none":
        return None
    key: dict[str, Any] = {"kind": kind, "size": size}
    if kind == "straight":
        key["length"] = draw(sizes(80, 300))
    if kind == "L-key":
        key["arm_in_socket"] = draw(st.sampled_from(("long", "short")))
        key["long_arm"], key["short_arm"] = draw(sizes(50, 110)), draw(sizes(18, 40))
    return key


@st.composite
def rods(draw: st.DrawFn, length: float) -> dict[str, Any]:
    width, height = draw(sizes(4, 8)), draw(sizes(6, 12))
    adjuster: dict[str, Any] = {
        "diameter": draw(sizes(6, 9)),
        "length": draw(sizes(6, 14)),
        "axis_below_top": draw(sizes(3.5, 6)),
        "socket": {"kind": "hex", "size": draw(st.sampled_from((3.0, 4.0, 5.0, 3.96875))), "depth": 5.0},
    }
    rod: dict[str, Any] = {
        "kind": "two-way",
        "adjuster_at": "head",
        "length": max(50.0, length),
        "width": width,
        "height": height,
        "adjuster": adjuster,
    }
    for end in ("block", "anchor"):
        if draw(st.booleans()):
            wider = draw(st.sampled_from((0.0, 0.0, 1.0, 3.0)))
            rod[end] = {"length": draw(sizes(6, 20)), "width": width + wider, "height": height}
    return rod


@st.composite
def tuners(draw: st.DrawFn, count: int, near: float) -> list[dict[str, Any]]:
    """One a string, in two rows along the first 80 mm of the head."""
    hole, aside = draw(sizes(6, 10)), near / 4
    return [
        {
            "x": -round(15 + 60 * (k // 2) / max(1, (count - 1) // 2), 2),
            "y": round(aside if k % 2 else -aside, 2),
            "hole": hole,
            "housing": {"length": 20.0, "width": 10.0},
        }
        for k in range(count)
    ]


@st.composite
def screws(draw: st.DrawFn, aside: float) -> list[dict[str, Any]]:
    """Two beside the channel: through the body, or dowels let into the heel."""
    kind = draw(st.sampled_from(("wood-screw", "dowel", "insert")))
    length = draw(sizes(25, 50)) if kind == "wood-screw" else draw(sizes(6, 14))
    return [
        {"from_end": 14.0, "y": side * round(aside, 2), "diameter": 4.5, "length": length, "kind": kind}
        for side in (-1, 1)
    ]


@st.composite
def necks(draw: st.DrawFn) -> Tables:
    """One neck of a kind that is built: bolted or through, stepped or angled head, rod, bars or both."""
    courses = draw(st.integers(3, 12))
    scale = draw(sizes(300, 900))
    margin = draw(sizes(1.5, 4.5))
    narrow = max(25.0, 4.05 * (courses - 1) + 2 * margin)
    nut_width = draw(sizes(narrow, min(max(narrow, 12.0 * courses), 80.0)))
    s0 = nut_width - 2 * margin
    s1 = s0 + min(draw(sizes(0, 16)), 84.0 - s0)
    frets = draw(st.integers(14, 27))
    joint = draw(st.integers(10, min(frets, 22)))
    x_joint, x_last = (scale * (1 - 2 ** (-n / 12)) for n in (joint, frets))
    past = draw(sizes(3, 10))
    x_end = x_last + past
    through = draw(st.booleans())
    wood_end = round(x_end + (draw(sizes(0, 250)) if through else 0.0), 3)
    thickness = draw(sizes(4, 8))
    t_1 = draw(sizes(max(12.0, thickness + 5), 30))
    t_12 = min(max(12.0, t_1 + draw(sizes(-1, 4))), 30.0)
    head_kind = draw(st.sampled_from(("stepped", "angled")))
    near = round(nut_width + draw(sizes(-4, 14)), 3)
    tables: Tables = {
        "design": {"name": "sample"},
        "strings": {
            "courses": courses,
            "scale": scale,
            "spacing_at_nut": round(s0, 3),
            "spacing_at_bridge": round(s1, 3),
            "divided_by": draw(st.sampled_from(("gaps", "centres"))),
        },
        "fretboard": {
            "frets": frets,
            "past_last_fret": past,
            "thickness": thickness,
            "edge_margin": {"nut": margin, "last_fret": draw(sizes(1.5, 5))},
            "radius": draw(st.sampled_from(("flat", 180.0, 305.0, {"nut": 240.0, "end": 400.0}))),
        },
        "neck": {"joint_fret": joint, "thickness": {"fret_1": t_1, "fret_12": t_12}, "back": draw(backs())},
        "heel": {
            "kind": "through" if through else "bolted",
            "wood_ends_at": wood_end,
            "depth": draw(sizes(32, 60)) if through else t_12 - thickness + draw(sizes(1, 8)),
            "swell_from": draw(sizes(15, 60)),
            "corner_radius": draw(sizes(0, 8)),
        },
        "nut": {"height": max(8.0, thickness + 2)},
        "head": {
            "kind": head_kind,
            "thickness": min(max(6.0, round(t_1 - thickness + draw(sizes(-4, 5)), 2)), 30.0),
            "length": draw(sizes(90, 230)),
            "swell_length": draw(sizes(15, 60)),
            "outline": {"near": max(20.0, near), "far": max(20.0, round(near + draw(sizes(-10, 40)), 3))},
        },
        "board": {
            "length": 2000.0,
            "width": 200.0,
            "thickness": 120.0,
            "allowance": {"sides": draw(sizes(0.2, 6)), "ends": draw(sizes(0, 60)), "back": draw(sizes(0.2, 6))},
        },
    }
    if head_kind == "angled":
        tables["head"]["angle"] = draw(sizes(3, 17))
    else:
        wood = t_1 - thickness - tables["head"]["thickness"]
        tables["head"]["drop"] = min(max(1.0, wood + draw(sizes(0, 8))), 25.0)
    if draw(st.booleans()):
        tables["heel"]["width"] = round(s1 + 10 + draw(sizes(0, 20)), 3)
    if draw(st.booleans()):
        diameters = [draw(sizes(0.2, 1.5)) for _ in range(courses)]
        tables["strings"]["each"] = [{"diameter": d} for d in diameters]
    if draw(st.booleans()):
        tables["workshop"] = {
            "cutters": [{"diameter": d, "flute_length": 20.0, "stick_out": 40.0} for d in draw(st.sampled_from(RACKS))]
        }
    if draw(st.integers(0, 3)) == 0:
        tables["fretboard"]["width"] = {"nut": round(nut_width, 3), "end": round(s1 + 2 * margin + 1, 3)}
        del tables["fretboard"]["edge_margin"]
    if draw(st.booleans()):
        tables["head"]["starts_at"] = -draw(sizes(5, 12))
    if draw(st.booleans()):
        tables["head"]["tuners"] = draw(tuners(courses, min(near, 60.0)))
    if not through and draw(st.booleans()):
        tables["heel"]["screws"] = draw(screws(nut_width / 2 - 6))
    if through and draw(st.booleans()):
        tables["body"] = {"cutouts": [{"from": round(x_end + 1, 2), "to": round(x_end + 40, 2)}]}
    reach = round(x_joint + 15, 2)
    parts = draw(st.sampled_from(("rod", "rod", "bars", "both")))
    if parts != "bars":
        length = round(draw(sizes(max(50.0, reach - 40), min(900.0, max(60.0, wood_end)))), 2)
        tables["rod"] = draw(rods(length))
        key = draw(keys(tables["rod"]["adjuster"]["socket"]["size"]))
        if key is not None:
            tables["adjusting_key"] = key
        tables["rod_place"] = {"from_nut": draw(st.one_of(st.just("auto"), sizes(0, 30)))}
        tables["channel"] = {"ends": draw(st.sampled_from(ENDS))}
    if parts != "rod":
        tables["bars"] = {
            "count": draw(st.integers(1, 2)),
            "width": draw(sizes(2, 5)),
            "height": draw(sizes(4, 10)),
            "length": round(max(40.0, reach - draw(sizes(0, 60))), 2),
            "offset": draw(sizes(6.8, 14)) if parts == "both" else draw(sizes(2.7, 14)),
        }
    return tables


ENDS = ("squared", "squared", "squared", "round", "round", "run-long")
RACKS = ((6.0,), (3.0, 6.0), (4.0, 5.5, 6.35), (12.0,))

# one number from its whole range, wherever the rest lies: the sort of slip a maker makes
SLIPS = (
    ("strings", "spacing_at_bridge", 8, 160),
    ("fretboard", "past_last_fret", 0, 200),
    ("fretboard", "thickness", 2, 15),
    ("heel", "wood_ends_at", 100, 1500),
    ("heel", "depth", 5, 150),
    ("heel", "swell_from", 5, 150),
    ("heel", "corner_radius", 0, 60),
    ("heel", "width", 10, 200),
    ("head", "starts_at", -100, -0.5),
    ("head", "length", 40, 400),
    ("head", "thickness", 6, 30),
    ("head", "swell_length", 5, 120),
    ("nut", "thickness", 1.5, 15),
)


@st.composite
def designs(draw: st.DrawFn, slips: bool = True) -> Tables:
    """A neck of a kind that is built; with `slips`, one in four has a number from anywhere in its allowed range."""
    tables = draw(necks())
    if slips and draw(st.integers(0, 3)) == 0:
        section, key, low, high = draw(st.sampled_from(SLIPS))
        tables[section][key] = draw(sizes(low, high))
    return tables
