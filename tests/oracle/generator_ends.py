"""Heads and heels of every kind, for the generator."""

from __future__ import annotations

import random
from typing import Any

Tables = dict[str, dict[str, Any]]
Pick = random.Random


def size(pick: Pick, low: float, high: float) -> float:
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20


def any_heel(pick: Pick, made: Tables) -> None:
    drawn, neck = made["drawn"], made["neck"]
    kind = pick.choice(["bolted", "tenon", "through"])
    depth = max(neck["thickness"]["fret_12"], neck["thickness"]["fret_1"]) - made["fretboard"]["thickness"]
    heel: dict[str, Any] = {"kind": kind, "swell_from": size(pick, 15, 45)}
    if kind == "bolted":
        heel["depth"] = round(depth + size(pick, 1.5, 8), 2)
        heel["corner_radius"] = size(pick, 0, 8)
        heel["wood_ends_at"] = round(drawn["x_last"], 2)
        if pick.random() < 0.5:
            heel["screws"] = [
                {"from_end": 14.0, "y": y, "diameter": 4.5, "length": size(pick, 25, 45), "kind": screw}
                for screw in [pick.choice(["wood-screw", "insert", "dowel"])]
                for y in (-16.0, 16.0)
            ]
    elif kind == "tenon":
        heel["depth"] = round(depth + size(pick, 3, 55), 2)
        width, deep = size(pick, 16, 40), size(pick, 12, heel["depth"])
        heel["tenon"] = {"length": size(pick, 15, 60), "width": width, "depth": deep}
    else:
        heel["depth"] = round(depth + size(pick, 8, 30), 2)
        heel["wood_ends_at"] = round(drawn["x_last"] + size(pick, 0, 250), 2)
    if pick.random() < 0.4:
        heel["width"] = round(drawn["s1"] + 8 + size(pick, 0, 20), 2)
    made["heel"] = _dovetailed(heel, made)


def _dovetailed(heel: dict[str, Any], made: Tables) -> dict[str, Any]:
    """A third of the tenons as dovetails, half of these with a heel that narrows, half with a cap. Drawn from the heel
    itself, so that every other design stays what it was."""
    pick = random.Random(repr(sorted(heel.items(), key=str)))
    if heel["kind"] != "tenon" or pick.random() > 0.35:
        return heel
    wide = heel.get("width", made["drawn"]["s1"])
    tenon = {**heel["tenon"], "length": size(pick, 12, 24), "width": round(min(46.0, 0.8 * wide), 2)}
    tenon |= {"flare": pick.choice([8.0, 10.0, 12.0, 14.5]), "taper": pick.choice([2.0, 3.0, 4.5])}
    found = {**heel, "kind": "dovetail", "tenon": tenon}
    if pick.random() < 0.5 and "width" in heel:
        found["width"] = {"joint": wide, "cap": round(wide * (0.6 + 0.3 * pick.random()), 2)}
    if pick.random() < 0.5:
        found["cap"] = {"thickness": size(pick, 1.5, 5), "wood": "ebony"}
    return found


def any_head(pick: Pick, made: Tables) -> None:
    drawn, neck = made["drawn"], made["neck"]
    kind = pick.choice(["stepped", "angled", "scarfed"])
    wood = neck["thickness"]["fret_1"] - made["fretboard"]["thickness"]
    near = round(max(drawn["nut"] + size(pick, 0, 12), 26.0), 2)
    head: dict[str, Any] = {"kind": kind, "thickness": min(max(9.0, round(wood + size(pick, -3, 3), 2)), 30.0)}
    head["length"] = size(pick, 110, 220)
    if kind == "stepped":
        head["drop"] = min(max(2.0, round(wood - head["thickness"] + size(pick, 1, 8), 2)), 25.0)
    else:
        head["angle"] = size(pick, 6, 16)
    if kind == "scarfed":
        head["scarf"] = pick.choice(["under", "on-ramp"])
    drawing = pick.random()
    if drawing < 0.15:
        made["files"] = {"head.dxf": _dxf(_outline(pick, near, head["length"]))}
        head["outline"] = {"file": "head.dxf", "layer": "outline"}
    elif drawing < 0.25:
        corners = " ".join(f"{x},{-y}" for x, y in _outline(pick, near, head["length"]))
        made["files"] = {
            "head.svg": f'<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" '
            f'viewBox="0 0 100 100"><g id="outline"><path d="M{corners}Z"/></g></svg>'
        }
        head["outline"] = {"file": "head.svg", "layer": "outline"}
    else:
        head["outline"] = {"near": near, "far": round(max(24.0, near + size(pick, -6, 36)), 2)}
        if pick.random() < 0.15:
            head["outline"]["far"] = round(near + size(pick, 24, 40), 2)
            head["wings"] = [{"side": side, "width": 24.0} for side in ("bass", "treble")]
    if pick.random() < 0.3:
        head["volute"] = {"length": size(pick, 15, 40), "height": size(pick, 0.6, 4)}
    elif pick.random() < 0.6:
        head["swell_length"] = round(size(pick, 20, 50) + drawn["over"] / 3, 2)
    if pick.random() < 0.5:
        strings, aside = made["strings"], round(min(near / 4, 15.0), 2)
        count = strings["courses"] * (2 if strings.get("paired") else 1)
        head["tuners"] = [
            {
                "x": -round(28 + 60 * (k // 2) / max(1, (count - 1) // 2), 2),
                "y": aside if k % 2 else -aside,
                "hole": 8.0,
                "housing": {"length": 18.0, "width": 10.0},
            }
            for k in range(count)
        ]
    made["head"] = head


def _outline(pick: Pick, near: float, length: float) -> list[tuple[float, float]]:
    """Corners of a head's outline, unlike on its two sides, by x along the face."""
    sides = []
    for sign in (1, -1):
        waist, wide = near / 2 + size(pick, 0, 3), near / 2 + size(pick, 4, 18)
        sides.append(
            [(5.0, sign * waist), (-40.0, sign * waist), (-0.6 * length, sign * wide), (-length, sign * wide * 0.7)]
        )
    return [(round(x, 3), round(y, 3)) for x, y in sides[0] + sides[1][::-1]]


def _dxf(corners: list[tuple[float, float]]) -> str:
    """A closed lightweight polyline in mm, as the format's reference writes it."""
    head = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
    line = f"0\nLWPOLYLINE\n100\nAcDbEntity\n8\noutline\n100\nAcDbPolyline\n90\n{len(corners)}\n70\n1\n"
    points = "".join(f"10\n{x}\n20\n{y}\n" for x, y in corners)
    return f"{head}0\nSECTION\n2\nENTITIES\n{line}{points}0\nENDSEC\n0\nEOF\n"
