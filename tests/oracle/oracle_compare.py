"""The oracle against the package: what of a layout, or of findings, differs by more than a stated bound."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from later_compare import later_differs
from oracle_bars import bar_cuts, bar_intervals
from oracle_kinds import (
    OF_A_CHANNEL,
    fretless,
    is_bare,
    outer_heights,
    seams,
    side_marks,
    slots_come_through,
    thinnest,
    thread_side,
)
from oracle_neck import Cut, aslant, cover, to_end, walls
from oracle_nut_end import nut_end_differs, nut_end_found
from oracle_pair import pair_differs, pair_found
from oracle_rod import Shop, Tables, clear_of_board, cuts, fitting, in_wood, rod_interval, rods_of
from oracle_slots import slots_differ, slots_found_differ
from oracle_soundhole import enters, own_length, way_numbers

from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.wood.slivers import seams_beside
from neckmodel.layout.wood.strips import seams_of

if TYPE_CHECKING:
    from neckmodel.findings import Finding, Findings
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace

SAME = 1e-6  # mm, of closed forms; inches are read back from 17 digits
FITTING = 2e-5  # mm, of lengths found by halving, and told to 0.00001
BRUTE = 2e-3  # mm: the oracle's back is a chain of chords
# mm: a layout looks at nine sections along a straight floor under a back of one shape, where walls hardly
# bend, and at 181 elsewhere; `check` measures the solid and does not depend on either
BETWEEN = 0.02
# mm: a solid narrows and thins along x, so that its least distance is aslant, and a round end reaches on
SOLID = 0.06
ON_SOLIDS = 0.005  # mm: the kernel's section of an adjuster
BRACE = 3.0  # mm of a brace's wood, the default limit
KEYS_WAY = ("access-slot", "key-swing")


def layout_differs(tables: Tables, layout: Layout) -> list[str]:
    """Place intervals, the cuts themselves, and the walls of the layout against the oracle's."""
    shop, found = Shop(tables), []

    def see(what: str, got: float, low: float, high: float) -> None:
        if not low <= got <= high and not (math.isinf(got) and got in (low, high)):
            found.append(f"{what}: {got:.6f}, the oracle has {low:.6f} to {high:.6f}")

    def same(what: str, got: float, want: float) -> None:
        see(what, got, want - SAME, want + SAME)

    found += _kinds(tables, layout) + slots_differ(tables, layout) + nut_end_differs(tables, layout)
    shops = [Shop(tables, *one) for one in rods_of(tables)]
    if len(shops) != len(layout.rods):
        found.append(f"{len(layout.rods)} rods, the oracle has {len(shops)}")
    pairs = [(f"rod{one.end}", rod, rod_interval(one)) for one, rod in zip(shops, layout.rods, strict=False)]
    by_itself = [max(low for _, _, (low, _) in pairs), min(high for _, _, (_, high) in pairs)] if pairs else [0.0, 0.0]
    if layout.bars:
        pairs += [(bar.name, bar, room) for bar, room in zip(layout.bars, bar_intervals(shop), strict=True)]
    for name, placed, (low, high) in pairs:
        same(f"place of the {name}, from", max(bound.x for bound in placed.lower), low)
        same(f"place of the {name}, to", min(bound.x for bound in placed.upper), high)
        of_a_rod = placed in layout.rods and by_itself[0] <= by_itself[1]
        if of_a_rod and tables.get("rod_place", {}).get("from_nut") == "auto":
            see(f"{name} placed by itself", placed.x_start, low - SAME, high + SAME)
    data = layout_json(layout)
    for one, rod, told in zip(shops, layout.rods, data.get("rods", [data["rod"]]), strict=False):
        found += _told(one, rod, told)
    if layout.rod is not None:
        found += _way(shop, layout)
        found += pair_differs(tables, layout)
    mine = _cuts(tables, layout)
    own = [step for step in layout.steps if not step.name.startswith(KEYS_WAY)]
    if {step.name for step in own} - mine.keys():
        found.append(f"steps {[step.name for step in own]}, the oracle has {list(mine)}")
    for step in own:
        cut = mine[step.name]
        same(f"{step.name} from", step.x_start, max(cut.x0, -math.inf))
        same(f"{step.name} to", step.x_end, cut.x1)
        same(f"{step.name} width", step.width, cut.width)
        for x in (step.x_start, (step.x_start + step.x_end) / 2, step.x_end):
            same(f"{step.name} depth at {x:.1f}", step.depth_at(x), cut.deep(x))
        for wall in (w for w in layout.walls if w.step == step.name):
            least = walls(shop.neck, cut).least
            see(f"wall of the {step.name}", wall.wall, least - BRUTE, least + BETWEEN)
    return found


def _kinds(tables: Tables, layout: Layout) -> list[str]:
    """Strings over frets or wood, side marks, fret slots, and nothing of a channel where there is none."""
    found, lines, bare = [], layout.frets.strings, fretless(tables)
    for line, heights in zip((lines[0], lines[-1]), outer_heights(tables), strict=True):
        for got, want in zip((line.z_nut, line.z_12), heights, strict=True):
            if abs(got - want) > SAME:
                found.append(f"height of string {line.number}: {got:.6f}, the oracle has {want:.6f}")
    found += later_differs(tables, layout)
    found += _strips(tables, layout)
    marks = [(mark.number, mark.x) for mark in layout.side_marks]
    wanted = side_marks(tables)
    if [n for n, _ in marks] != [n for n, _ in wanted] or any(
        abs(one - two) > SAME for (_, one), (_, two) in zip(marks, wanted, strict=True)
    ):
        found.append(f"side marks {marks}, the oracle has {wanted}")
    slots = 0 if bare == "plain" else tables["fretboard"]["frets"] + bool(tables["fretboard"].get("zero_fret"))
    if len(layout.fretboard.slots) != slots:
        found.append(f"{len(layout.fretboard.slots)} fret slots, the oracle has {slots}")
    if is_bare(tables) and (layout.rod or layout.bars or layout.steps or layout.key or layout.walls):
        found.append("a neck without reinforcement has something of a channel")
    return found


def _strips(tables: Tables, layout: Layout) -> list[str]:
    """Where the seams of a board of strips lie, and the slivers that they leave on the channel's walls."""
    wanted, got = seams(tables), seams_of(layout.strips)
    if len(wanted) != len(got) or any(abs(one - two) > SAME for one, two in zip(wanted, got, strict=True)):
        return [f"seams {got}, the oracle has {wanted}"]
    thin = thinnest(tables, [(step.y, step.width) for step in layout.steps])
    told = [one.gap for one in seams_beside(layout.strips, layout.steps) if one.is_sliver(0.5 - SAME)]
    least = min(told, default=math.inf)
    if least != thin and abs(least - thin) > SAME:
        return [f"a sliver of {least}, the oracle has {thin}"]
    return []


def _kinds_found(tables: Tables, told: dict[str, Finding]) -> list[str]:
    """Findings that a kind has or has not."""
    found = nut_end_found(tables, told)
    if is_bare(tables):
        found += [f"{name} of a neck without a channel" for name in told if name.partition("/")[0] in OF_A_CHANNEL]
    if fretless(tables) == "plain":
        found += [f"{name} of a plain fretboard" for name in told if name.startswith("fret-slots/")]
    side = thread_side(tables)
    for end in [end for end, _ in rods_of(tables)] or [""]:
        way, name = told.get(f"fit/rod-way{end}"), f"fit/rod-way{end}"
        if (side is None) != (way is None):
            found.append(f"{name} is {way}, the oracle has {side}")
        elif side is not None and way is not None:
            off = abs((way.measured or 0.0) - side)
            room = BRUTE + (way.error or 0.0)  # the adjuster is round, and measured on its mesh
            if off > room or (abs(side) > room and (way.verdict == "warn") != (side < 0)):
                found.append(f"{name} measured {way.measured}, {way.verdict}, the oracle has {side:.4f}")
    return found


def _told(shop: Shop, rod: RodPlace, told: dict[str, Any]) -> list[str]:
    """What is told of places and lengths of rods that fit, in the layout's own numbers and in its data."""
    found, slack = [], 6e-6  # the data are rounded to 0.00001
    low, high = rod_interval(shop)
    aside = rod.length if rod.at_heel else 0.0
    for name, got, want in (
        ("x_adjuster_min", told["x_adjuster_min"], low + aside),
        ("x_adjuster_max", told["x_adjuster_max"], high + aside),
    ):
        if abs(got - want) > slack:
            found.append(f"{name} {got}, the oracle has {want:.6f}")
    clear = clear_of_board(shop, rod.length)
    if not (abs(rod.x_wheel - clear) <= SAME or (math.isinf(rod.x_wheel) and math.isinf(clear))):
        found.append(f"wheel clear from {rod.x_wheel}, the oracle has {clear:.6f}")
    lengths, got = fitting(shop), (told["fitting_length_from"], told["fitting_length_to"])
    if lengths is None:
        if got[0] <= got[1] + slack:
            found.append(f"rods from {got[0]} to {got[1]} are said to fit, the oracle has none")
    elif max(abs(one - other) for one, other in zip(got, lengths, strict=True)) > FITTING:
        found.append(
            f"rods from {got[0]} to {got[1]} are said to fit, the oracle has {lengths[0]:.5f} to {lengths[1]:.5f}"
        )
    return found


def _way(shop: Shop, layout: Layout) -> list[str]:
    """The way of a key from the soundhole: its bore, the top over it and its braces; or that there is none."""
    way, key = layout.soundhole_way, layout.key
    if way is None or key is None or layout.rod is None:
        return ["no key enters through the soundhole"] if enters(shop.t) else []
    got = {"diameter": way.diameter, "tilt": key.tilt, "least": way.least, "top": way.under_top.value}
    for hole in way.braces:
        if hole.over is None or hole.under is None:
            continue
        number = hole.name.removeprefix("brace-")
        for name, room in ((f"over {number}", hole.over), (f"under {number}", hole.under)):
            got[name] = min(room.value, got.get(name, math.inf))
    want = way_numbers(shop, layout.rod.x_start)
    found = [] if got.keys() == want.keys() else [f"the way has {sorted(got)}, the oracle's {sorted(want)}"]
    for name in got.keys() & want.keys():
        if abs(got[name] - want[name]) > SAME:
            found.append(f"the way's {name}: {got[name]:.6f}, the oracle has {want[name]:.6f}")
    if abs(way.length - own_length(shop)) > SAME:
        found.append(f"the key's length: {way.length:.6f}, the oracle has {own_length(shop):.6f}")
    return found


def _way_findings(shop: Shop, x_start: float, told: dict[str, Finding]) -> list[str]:
    """What the checks of a key from the soundhole measure on the solids of rod and key."""
    want, found = way_numbers(shop, x_start), []
    numbers = {"access/top": want["top"], "access/reach": own_length(shop) - want["least"]}
    over = [value for name, value in want.items() if name.startswith("over")]
    under = [value for name, value in want.items() if name.startswith("under")]
    if over:
        numbers["access/brace"] = min(under) if min(under) < BRACE or min(over) >= BRACE else min(over)
    for name, value in numbers.items():
        measured = told[name].measured
        if measured is None or abs(measured - value) > ON_SOLIDS:
            found.append(f"{name} measured {measured}, the oracle has {value:.4f}")
    fails = {"access/top": want["top"] < 0, "access/brace": bool(under) and min(under) < BRACE}
    for name, failing in fails.items():
        if name in told and (told[name].verdict == "fail") != failing:
            found.append(f"{name} is {told[name].verdict}, the oracle's number says {failing}")
    return found


def _cuts(tables: Tables, layout: Layout) -> dict[str, Cut]:
    """The oracle's cuts where the package put the rod, ended at the wood where they run out of it."""
    shop = Shop(tables)
    x = layout.rod.x_start if layout.rod is not None else 0.0
    made = [cut for one in rods_of(tables) for cut in cuts(Shop(tables, *one), x)] + bar_cuts(shop)
    end, found = shop.neck.x_end, {}
    for cut in made:
        if shop.rod is not None and shop.at_heel and not cut.name.startswith("bar-") and cut.x1 > end - SAME:
            if cut.x0 >= end - SAME:
                continue
            floor = (cut.deep(cut.x0), cut.deep((cut.x0 + end) / 2), cut.deep(end))
            cut = Cut(cut.name, cut.x0, end, cut.y, cut.width, floor, closed=False)
        found[cut.name] = cut
    return found


def findings_differ(tables: Tables, layout: Layout, findings: Findings) -> list[str]:
    """Least wall, place and cover as measured on the solids against the oracle's: every false pass and false fail.

    Walls of steps that begin on the head side of the nut are left out: the head's own swell is not the oracle's.
    """
    shop, found = Shop(tables), []
    told = {finding.check: finding for finding in findings.findings}
    found += _kinds_found(tables, told) + slots_found_differ(tables, layout, told)
    runs_out = any(s.end_end == "open" and s.x_end >= layout.heel.x_end - SAME for s in layout.steps)
    for name, cut in _cuts(tables, layout).items():
        wall = told.get(f"wall/{name}")
        if wall is not None and wall.measured is not None and wall.limit is not None and cut.x0 >= 0:
            by_sections = walls(shop.neck, cut)
            end = to_end(shop.neck, cut)  # behind an open end lies the next step, not a wall: it may be named, or not
            closed = cut.closed and not enters(tables)  # of a rod turned from inside the body no end counts
            low, high = (
                min(by_sections.least, end, aslant(shop.neck, cut)),
                min(by_sections.exact, end if closed else math.inf),
            )
            value, verdicts = wall.measured, {wall.verdict}
            rod_end = told.get("wall/rod-end")
            if (
                cut.closed
                and runs_out
                and rod_end is not None
                and rod_end.measured is not None
                and rod_end.at is not None
            ):
                # what it leaves beside the slot that runs out through the end is told there, or what is less: to a
                # cut-out in the body, or beside a bar that reaches farther
                verdicts.add(rod_end.verdict)
                if abs(rod_end.at.x - cut.x1) < SAME and "cut-out" not in rod_end.says:
                    value = min(value, rod_end.measured)
                elif rod_end.measured <= high:
                    value = min(value, high)
            error = wall.error or 0.0  # how far above the number the wall may be; of one broken through, either way
            if not low - SOLID - error <= value <= high + SOLID + (error if value < 0 else 0.0):
                found.append(f"wall/{name} measured {value:.3f}, the oracle has {low:.3f} to {high:.3f}")
            if "fail" not in verdicts and high < wall.limit - SOLID:
                found.append(f"wall/{name} passes falsely: {high:.3f}")
            if wall.verdict == "fail" and low > wall.limit + SOLID:
                found.append(f"wall/{name} fails falsely: {low:.3f}")
        behind = shop.rod is not None and shop.at_heel and not name.startswith("bar-")
        want = cover(shop.neck, cut, bool(tables["fretboard"].get("zero_fret")), behind)
        covered = told.get(f"cover/{name}")
        got = None if covered is None else covered.measured
        off = 0.0 if got is None or want is None else got - want
        if (
            (got is None) != (want is None)
            or off > BRUTE
            or (off < -BRUTE and not slots_come_through(tables, shop.neck.half(shop.neck.x_board)))
        ):
            found.append(f"cover/{name} measured {got}, the oracle has {want}")
    if layout.rod is not None and enters(tables):
        found += _way_findings(shop, layout.rod.x_start, told)
    for one, rod in zip((Shop(tables, *which) for which in rods_of(tables)), layout.rods, strict=True):
        name = f"place/adjuster{one.end}"
        if (place := told.get(name)) is None:
            continue
        low, high = in_wood(one, rod.length)
        clear = clear_of_board(one, rod.length)
        low = max(low, clear if clear > high else low)  # a wheel that leaves no place at all
        margin = min(rod.x_start - low, high - rod.x_start)
        if (place.verdict == "fail") != (margin < -SAME):
            found.append(f"{name} is {place.verdict}, the oracle has a margin of {margin:.6f}")
    found += pair_found(layout, told)
    return found
