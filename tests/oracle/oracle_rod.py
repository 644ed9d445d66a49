"""The rod from a design's own tables, for the oracle: where it may lie, and what is cut for it and for bars."""

from __future__ import annotations

import math
from typing import Any

from oracle_neck import Cut, Neck

Tables = dict[str, dict[str, Any]]
CORNERS = {3.0: 3.39, 4.0: 4.53, 4.7625: 0.2135 * 25.4}  # across corners at most: JIS B 4648:2008, ASME B18.3-2012
BEHIND_ZERO = 2.0  # of fretboard between a zero fret and the nut


def rods_of(t: Tables) -> list[tuple[str, float]]:
    """(end of its names, y of its axis) of each rod, the bass side's first."""
    rod = t.get("rod")
    if rod is None:
        return []
    return [("", 0.0)] if rod.get("count", 1) == 1 else [("-1", -rod["offset"]), ("-2", rod["offset"])]


class Shop:
    """What a design says, or leaves to its documented defaults, of rod, place and channel. y, end: of this rod's axis,
    and of its steps' names."""

    def __init__(self, t: Tables, end: str = "", y: float = 0.0) -> None:
        self.neck, self.end, self.y = Neck(t), end, y
        self.t, self.rod, self.key = t, t.get("rod"), t.get("adjusting_key")
        place, channel = t.get("rod_place", {}), t.get("channel", {})
        self.past, self.inner = place.get("past_joint", 15.0), place.get("past_joint_of", "outer") == "inner"
        self.beyond, self.from_nut = place.get("wood_beyond_rod", 6.0), place.get("from_nut", 4.0)
        self.wider, self.deeper = channel.get("wider_by", 0.1), channel.get("deeper_by", 0.1)
        self.play, self.clear = channel.get("adjuster_clearance", 0.8), channel.get("end_clearance", 1.0)
        self.ends, self.round_key = channel.get("ends", "squared"), channel.get("key_clearance", 0.5)
        self.rack = [c["diameter"] for c in t.get("workshop", {}).get("cutters", [])]
        self.gap = 4.0
        nut = t.get("nut", {})
        thick, slope = nut.get("thickness", 5.0), math.hypot(1.0, self.neck.slope(0))
        strip = 1.5 * thick if nut.get("seat") == "groove" else 0.0
        self.nut = (thick + strip + (BEHIND_ZERO if t["fretboard"].get("zero_fret") else 0.0)) * slope
        below = nut.get("seat_depth", 2.0) if nut.get("seat") == "groove" else 0.0
        self.nut_height = nut.get("height", max(8.0, self.neck.fretboard + 2.0 + below))

    def farthest(self, slope: float, half: float) -> float:
        """How far toward the body a slanted line comes within `half` of the rod's axis."""
        return max(slope * (self.y + side * half) for side in (-1, 1))

    def nearest(self, slope: float, half: float) -> float:
        """The same toward the head, less than 0 there."""
        return min(slope * (self.y + side * half) for side in (-1, 1))

    def fret_1(self) -> float:
        return self.neck.x(1) + self.neck.slope(1) * self.y

    @property
    def at_heel(self) -> bool:
        assert self.rod is not None
        return bool(self.rod["adjuster_at"] == "heel")

    def boxes(self) -> list[tuple[str, float, float, float]]:
        """(name, length, width, depth of its underside) from the adjuster inward."""
        rod = self.rod
        assert rod is not None
        if "segments" in rod:
            parts = [(s["length"], s["width"], s["height"] + s["top"]) for s in rod["segments"]]
            names = ["block", *(f"segment-{k}" for k in range(2, len(parts))), "anchor"]
            names[max(range(len(parts)), key=lambda k: parts[k][0])] = "span"
            return [(n, *part) for n, part in zip(names, parts, strict=True)]
        ends = []
        for end in ("block", "anchor"):
            part = rod.get(end, {})
            ends.append((part.get("length", 0.0), part.get("width", rod["width"]), part.get("height", rod["height"])))
        span = rod["length"] - rod["adjuster"]["length"] - ends[0][0] - ends[1][0]
        return [("block", *ends[0]), ("span", span, rod["width"], rod["height"]), ("anchor", *ends[1])]

    def holders(self) -> tuple[float, float, float, float]:
        """Lengths, then widths, of what holds the rod at the adjuster and at the other end."""
        rod = self.rod
        assert rod is not None
        if rod["kind"] == "compression":
            d, anchor = rod["diameter"], rod.get("anchor", {})
            washer = rod.get("washer", {}).get("thickness", 0.0)
            return washer, anchor.get("length", 0.0), d, anchor.get("width", d)
        found = {name: (n, w) for name, n, w, _ in self.boxes()}
        if "segments" in rod:
            width = rod["width"]
            return found.get("block", (0.0, 0.0))[0], found.get("anchor", (0.0, 0.0))[0], width, width
        return found["block"][0], found["anchor"][0], found["block"][1], found["anchor"][1]

    def behind(self) -> float:
        body = self.t.get("body", {})
        cuts = [cut["from"] for cut in body.get("cutouts", [])]
        cuts += [body["soundhole"]["from"]] if "soundhole" in body else []
        return min([self.neck.x_end, *cuts])

    def reach(self) -> float:
        """How far from the nut (at the heel: before the fretboard's end) an L-key still rises clear of it."""
        key, rod = self.key, self.rod
        if key is None or rod is None or key["kind"] != "L-key":
            return math.inf
        corners = CORNERS[key["size"]]
        arm = key["long_arm"] if key["arm_in_socket"] == "long" else key["short_arm"]
        left = arm - key["engaged_depth"] - corners - self.round_key
        if rod["kind"] == "compression":
            axis, over = rod["axis_depth"], self.neck.fretboard if self.at_heel else self.nut_height
            rise = (4 * axis["middle"] - 3 * axis["adjuster"] - axis["anchor"]) / rod["length"]
            left -= (over + axis["adjuster"]) * max(0.0, rise)
        behind = self.nut - self.nearest(self.neck.slope(0), corners / 2)
        head = self.t.get("head", {})
        if head.get("kind") == "none":  # the other arm stands clear of nut end and clamp
            behind = max(head["end"]["length"], behind + head.get("clamp", {}).get("length", 0.0))
        return float(left if self.at_heel else left - behind)


def in_wood(shop: Shop, length: float) -> tuple[float, float]:
    """From where to where the nut-side end of a rod so long may lie in the wood, within the key's reach, and at the
    heel from before fret 1; empty where the second is the smaller."""
    rod, neck = shop.rod, shop.neck
    assert rod is not None
    adjuster = rod["adjuster"]
    block, anchor, block_wide, anchor_wide = shop.holders()
    joint, nut = neck.slope(shop.t["neck"]["joint_fret"]), neck.slope(0)

    def past_joint(wide: float) -> float:
        return neck.x_joint + shop.farthest(joint, (wide + shop.wider) / 2) + shop.past

    if not shop.at_heel:
        first = past_joint(anchor_wide) + (anchor if shop.inner else 0.0)
        low = max(shop.gap + shop.farthest(nut, (adjuster["diameter"] + shop.play) / 2), first - length)
        return low, min(shop.behind() - shop.beyond - shop.clear - length, shop.reach())
    to_block = length - adjuster["length"]
    first = past_joint(block_wide) + (block if shop.inner else 0.0)
    low = max(shop.gap + shop.farthest(nut, (anchor_wide + shop.wider) / 2), first - to_block)
    if shop.key is not None and shop.key.get("enters") == "soundhole":
        edge, key = shop.t["body"]["soundhole"]["from"], shop.key
        if key["kind"] == "L-key":
            own, past = key[f"{key.get('arm_in_socket', 'long')}_arm"], CORNERS[key["size"]] + shop.round_key
        else:
            own, past = key["length"] + key.get("handle", {}).get("length", 0.0), key.get("grip", 25.0)
        low = max(low, edge + past + key["engaged_depth"] - own - length)
    elif math.isfinite(shop.reach()):
        low = max(low, max(x for x, _ in neck.board_end()) - shop.reach() - length)
    return low, min(shop.behind() - to_block, shop.fret_1())


def rod_interval(shop: Shop, length: float | None = None) -> tuple[float, float]:
    """The same under the fretboard: at the head the channel's far end must not come out from under it. length: the
    rod's own unless given."""
    assert shop.rod is not None
    length = shop.rod["length"] if length is None else length
    low, high = in_wood(shop, length)
    if not shop.at_heel:
        slant = shop.nearest(shop.neck.board_slope, (shop.holders()[3] + shop.wider) / 2)
        high = min(high, shop.neck.x_board + slant - shop.clear - length)
    return low, high


def clear_of_board(shop: Shop, length: float) -> float:
    """At the heel: from where on an adjuster that stands above the glue plane lies wholly past the fretboard's end."""
    rod, neck = shop.rod, shop.neck
    assert rod is not None
    adjuster = rod["adjuster"]
    deep = rod["axis_depth"]["adjuster"] if rod["kind"] == "compression" else adjuster["axis_below_top"] + shop.deeper
    radius = adjuster["diameter"] / 2
    if not shop.at_heel or radius <= deep:
        return -math.inf
    past = neck.x_board + shop.farthest(neck.board_slope, radius)
    return float(past + (adjuster.get("wheel") or adjuster["length"]) - length)


def fitting(shop: Shop) -> tuple[float, float] | None:
    """The shortest and the longest rod that has a place, all else as it is; None where none has.

    By halving: the room of a rod grows and then shrinks with its length. Where no key's arm bounds how far in a rod at
    the head may lie, its block is to end before fret 1, as far as the gap from the nut lets it.
    """
    rod = shop.rod
    assert rod is not None

    def room(length: float) -> float:
        low, high = rod_interval(shop, length)
        if not shop.at_heel and math.isinf(shop.reach()):
            nut = shop.farthest(shop.neck.slope(0), (rod["adjuster"]["diameter"] + shop.play) / 2)
            high = min(high, max(shop.fret_1() - rod["adjuster"]["length"] - shop.holders()[0], shop.gap + nut))
        return high - max(low, clear_of_board(shop, length))

    low, high = 0.0, 3000.0
    for _ in range(200):
        third = (high - low) / 3
        low, high = (low + third, high) if room(low + third) < room(high - third) else (low, high - third)
    best = (low + high) / 2
    if room(best) < -1e-9:
        return None
    ends = []
    for inside, outside in ((best, 0.0), (best, 3000.0)):
        for _ in range(100):
            middle = (inside + outside) / 2
            inside, outside = (middle, outside) if room(middle) >= -1e-9 else (inside, middle)
        ends.append(inside)
    return ends[0], ends[1]


def cuts(shop: Shop, x_start: float) -> list[Cut]:
    """Everything cut for a rod whose nut-side end lies at x_start; the key's way is left out."""
    made: list[Cut] = []
    if shop.rod is not None:
        inward = _bent(shop) if shop.rod["kind"] == "compression" else _straight(shop)
        for cut in inward:
            x0, x1, floor = x_start + cut.x0, x_start + cut.x1, cut.floor
            if shop.at_heel:
                end = x_start + shop.rod["length"]
                x0, x1, floor = end - cut.x1, end - cut.x0, cut.floor[::-1]
            closed = not shop.at_heel or cut.name == "adjuster"  # the others open into the adjuster's pocket
            made.append(Cut(cut.name + shop.end, x0, x1, shop.y, cut.width, floor, closed))
    return made


def _level(name: str, x0: float, x1: float, width: float, depth: float) -> Cut:
    return Cut(name, x0, x1, 0.0, width, (depth, depth, depth))


def _far(shop: Shop, block: float, width: float, run: float) -> float:
    """How far beyond the rod the channel runs: its clearance, or so far that a square block clears a round end."""
    if shop.ends != "run-long":
        return shop.clear
    fitting = [d for d in shop.rack if d <= run + 1e-6]
    r = min(max(fitting, default=run), width) / 2
    corner = max(width - block, 0.0) / 4
    q = max(0.0, block / 2 - (width / 2 - r))
    return max(shop.clear, r - math.sqrt(max((r - corner) ** 2 - q**2, 0.0)))


def _adjuster(shop: Shop, axis: float, slope: float = 0.0) -> Cut:
    """slope: of a bent rod's axis at the adjuster, by which a wheel leans over its inner face."""
    rod = shop.rod
    assert rod is not None
    adjuster = rod["adjuster"]
    wheel = _wheel(shop)
    lean = adjuster["diameter"] / 2 * abs(slope)
    inner = wheel + shop.clear + lean if 0 < wheel < adjuster["length"] else adjuster["length"]
    wide = adjuster["diameter"] + shop.play
    return _level("adjuster", -shop.clear, inner, wide, axis + wide / 2)


def _wheel(shop: Shop) -> float:
    assert shop.rod is not None
    return float(shop.rod["adjuster"].get("wheel", 0.0))


def _straight(shop: Shop) -> list[Cut]:
    """Distances inward from the adjuster's face."""
    rod = shop.rod
    assert rod is not None
    boxes = [box for box in shop.boxes() if box[1] > 0]
    own = [box for box in boxes if box[0] != "span" and box[2] > rod["width"] + 1e-6]
    lying = [box for box in boxes if box not in own]
    run_wide = max(rod["width"], *(w for _, _, w, _ in lying)) + shop.wider
    run_deep = max(d for _, _, _, d in lying) + shop.deeper
    last = boxes[-1]
    wide = last[2] + shop.wider if last in own else run_wide
    end = rod["length"] + _far(shop, last[2], wide, rod["width"] + shop.wider)
    made = [_level("run", _wheel(shop) or rod["adjuster"]["length"], end, run_wide, run_deep)]
    at = rod["adjuster"]["length"]
    for k, (name, length, width, deep) in enumerate(boxes):
        if boxes[k] in own:
            start, stop = (at if k == 0 else at - shop.clear), (end if boxes[k] is last else at + length + shop.clear)
            made.append(_level(name, start, stop, width + shop.wider, deep + shop.deeper))
        at += length
    return [*made, _adjuster(shop, rod["adjuster"]["axis_below_top"] + shop.deeper)]


def _bent(shop: Shop) -> list[Cut]:
    """A compression rod: its axis is the parabola through its depths at both ends and half way."""
    rod = shop.rod
    assert rod is not None
    d, length, depths = rod["diameter"], rod["length"], rod["axis_depth"]
    axis = Cut("axis", 0.0, length, 0.0, d, (depths["adjuster"], depths["middle"], depths["anchor"]))
    anchor = rod.get("anchor", {})
    lanc, wanc, hanc = anchor.get("length", 0.0), anchor.get("width", d), anchor.get("height", d)
    own = lanc > 0 and max(wanc, hanc) > d + 1e-6
    run = d + shop.wider
    across = wanc if lanc > 0 else d
    wide = max(across + shop.wider, run)
    end = length + _far(shop, across, wide, run)
    x0 = _wheel(shop) or rod["adjuster"]["length"]
    below = d / 2 + shop.deeper
    floor = (axis.deep(x0) + below, axis.deep((x0 + end) / 2) + below, axis.deep(end) + below)
    made = [Cut("run", x0, end, 0.0, run, floor)]
    if own:
        deep = axis.deep(length - lanc / 2) + hanc / 2 + shop.deeper
        made.append(_level("anchor", length - lanc - shop.clear, end, wide, deep))
    block = rod["adjuster"]["length"]
    if "washer" in rod:
        thick, wheel = rod["washer"]["thickness"], rod["washer"]["diameter"]
        smallest = min(shop.rack, default=0.0)
        deep = axis.deep(block + thick / 2) + wheel / 2 + shop.deeper
        start = min(block - shop.clear, block + thick - smallest)
        made.append(_level("washer", start, block + thick, wheel + shop.wider, deep))
    slope = (axis.deep(block) - axis.deep(0.0)) / block
    return [*made, _adjuster(shop, max(axis.deep(0.0), axis.deep(block)), slope)]
