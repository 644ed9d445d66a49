"""Whether a change needs wood put back, by a maker's own reckoning from `layout.json` alone. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

NEAR = 0.011  # what is told is rounded to 0.01
LEFT_ON_BACK = 2.0  # on the sawn shaft, for carving, where nothing else is stated
Json = dict[str, Any]


def wood_put_back(before: Json, after: Json, measured: set[str], says: str) -> Iterator[str]:
    """What of the work before a change would have to be undone. says: the remedy, which may begin with what must not be
    done yet for it."""
    carved = {key for key in measured if key.startswith("neck.thickness.")}
    cut = {
        row["step"] for row in before["channel"] if carved or any(f"channel.{row['step']}." in key for key in measured)
    }
    yield from _channel(before, after, cut)
    if carved:
        yield from _closed(before, after)
    sawn = (
        carved
        or cut
        or any(key.startswith(("heel.screws", "head.tuners")) and key[-2:] in (".x", ".y", "nd") for key in measured)
    )
    if sawn:
        yield from _sawn(before, after, says)
        if before["board"] and any(
            after["board"][k] > before["board"][k] + NEAR for k in ("length", "width", "thickness")
        ):
            yield "a larger board"
    yield from _still_measured(before, after, measured)


def _channel(before: Json, after: Json, cut: set[str]) -> Iterator[str]:
    new = {row["step"]: row for row in after["channel"]}
    for row in before["channel"]:
        if row["step"] not in cut:
            continue
        other = new.get(row["step"])
        if other is None:
            yield f"{row['step']} is gone"
            continue
        if other["x_start"] > row["x_start"] + NEAR or other["x_end"] < row["x_end"] - NEAR:
            yield f"{row['step']} is shorter"
        if abs(other["y"] - row["y"]) + (row["width"] - other["width"]) / 2 > NEAR:
            yield f"{row['step']} is narrower"
        ends = ("depth_start", "depth_end", "depth_middle")
        level = other["depth_start"] == other["depth_end"] and row["depth_start"] == row["depth_end"]
        if level and any((row[k] or 0) > (other[k] or 0) + NEAR for k in ends):
            yield f"{row['step']} is shallower"


def _closed(before: Json, after: Json) -> Iterator[str]:
    """The fretboard is on: what lies under it stays as it is."""
    if before["channel"] and [_sizes(row) for row in before["channel"]] != [_sizes(row) for row in after["channel"]]:
        yield "the channel under the fretboard"
    for part, keys in (("rod", ("x_start", "x_end", "axis_depth")), ("fretboard", ("x_end", "width_nut", "width_end"))):
        if before[part] and any(after[part][key] > before[part][key] + NEAR for key in keys):
            yield part
    if abs(before["fretboard"]["thickness"] - after["fretboard"]["thickness"]) > NEAR:
        yield "the fretboard's thickness"
    if before["bars"] != after["bars"]:
        yield "bars"


def _sizes(row: Json) -> tuple[float, ...]:
    return tuple(round(row[key] or 0.0, 3) for key in ("x_start", "x_end", "width", "depth_start", "depth_end"))


def _sawn(before: Json, after: Json, says: str) -> Iterator[str]:
    """The finished neck against the sawn blank, unless the remedy says that it must not be sawn yet."""
    words = says.partition(":")[0] if says.startswith("if ") else ""
    head, new = before["head"], after["head"]
    if "head" not in words and (
        new["drop"] < head["drop"] - NEAR
        or abs(new["angle"] - head["angle"]) > NEAR
        or new["drop"] + new["thickness"] > head["drop"] + head["thickness"] + NEAR
    ):
        yield "the head's wood"
    if "heel" not in words and after["heel"]["depth"] > before["heel"]["depth"] + NEAR:
        yield "the heel's wood"
    for old, now in zip(before["neck"]["sections"], after["neck"]["sections"], strict=False):
        if "shaft" not in words and now["depth"] > old["depth"] + LEFT_ON_BACK + NEAR:
            yield f"the shaft's wood at fret {old['fret']}"
    blank = before["blank"]
    if "to length" not in words and (
        after["heel"]["x_end"] > blank["x_to"] + NEAR or new["x_far"] < blank["x_from"] - NEAR
    ):
        yield "the blank's length"
    wide = max([section["half_width"] for section in after["neck"]["sections"]] + [new["far"] / 2, new["near"] / 2])
    if "to width" not in words and wide > blank["half_width"] + NEAR:
        yield "the blank's width"


def _still_measured(before: Json, after: Json, measured: set[str]) -> Iterator[str]:
    """Nothing that was measured of the wood gets another value, but for more cut away from a step."""
    values = [{n["key"]: n["value"] for n in data["numbers"]} for data in (before, after)]
    for key in measured:
        wood = key.startswith(("head.", "heel.", "neck.", "fretboard."))
        if wood and abs(values[0].get(key, 0.0) - values[1].get(key, 0.0)) > NEAR:
            yield key
