"""Remedies for a key that enters through the soundhole: another key, its axis higher or lower, a deeper brace.
Lengths mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.place import rod_placed
from neckmodel.checks.remedies.remedy import any_of, graded, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.design.defaults.defaults import RANGES

if TYPE_CHECKING:
    from neckmodel.checks.remedies.remedy import Aim, Settings
    from neckmodel.design import Design
    from neckmodel.design.tables.key import AdjustingKey
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.access.soundhole import SoundholeWay

    Ways = Callable[[Aim], Iterator[Settings]]
    Good = Callable[[Layout], float | None]

PLACE, LENGTH, IN_SOCKET = "rod_place.from_nut", "adjusting_key.length", "adjusting_key.arm_in_socket"
HANDLE, HANDLE_LENGTH = "adjusting_key.handle.diameter", "adjusting_key.handle.length"
DEEPER, PLAY, ROUND = "channel.deeper_by", "channel.key_clearance", "channel.adjuster_clearance"
AXIS, BENT_AXIS = "rod.adjuster.axis_below_top", "rod.axis_depth.adjuster"


def longer_key(layout: Layout, short: float, loss: float) -> Remedy | None:
    """A longer key, or an L-key's longer arm in the socket; or the rod nearer to the soundhole."""
    stated = layout.design.adjusting_key
    if stated is None:
        return None

    def ways(aim: Aim) -> Iterator[Settings]:
        key, now = _in_socket(stated)
        yield {key: aim.up(key, now + short + aim.spare)}
        if key == "adjusting_key.short_arm":
            yield {IN_SOCKET: "long"}
        if layout.rod is not None:
            yield {PLACE: aim.up(PLACE, layout.rod.x_start + short + aim.spare)}

    def reach(new: Layout) -> float | None:
        way = new.soundhole_way
        return way.reach if way is not None and rod_placed(new) else None

    return _good(layout, ways, reach, 0.0, loss)


def under_top(layout: Layout, short: float, loss: float) -> Remedy | None:
    """The key's axis deeper, or less room round what goes through the bore."""

    def ways(aim: Aim) -> Iterator[Settings]:
        more = short + aim.spare
        yield from _axis_by(layout.design, more, aim)
        yield from _narrower(layout, more, aim)

    def room(new: Layout) -> float | None:
        return None if new.soundhole_way is None else new.soundhole_way.under_top.value

    return _good(layout, ways, room, 0.0, loss)


def wood_under(layout: Layout, way: SoundholeWay, limit: float, loss: float) -> Remedy | None:
    """Deeper braces, the key's axis higher, or less room round what goes through the bore. way: the layout's."""
    short = {
        hole.name: limit - hole.under.value
        for hole in sorted(way.braces, key=lambda hole: -hole.under.value if hole.under else 0.0)
        if hole.under is not None
    }
    worst = max(short.values())

    def ways(aim: Aim) -> Iterator[Settings]:
        deeper = {}
        for name, lack in short.items():
            k = int(name.removeprefix("brace-")) - 1
            key = f"body.braces.{k}.depth"
            if lack + aim.spare > SLACK:
                deeper[key] = aim.up(key, layout.design.body.braces[k].depth + lack + aim.spare)
        yield deeper
        yield from _lower_in_deeper(layout, limit + aim.spare, aim)
        yield from _axis_by(layout.design, -worst - aim.spare, aim)
        yield from _narrower(layout, worst + aim.spare, aim)

    def wood(new: Layout) -> float | None:
        room = None if new.soundhole_way is None else new.soundhole_way.under_braces
        return None if room is None else room.value

    return _good(layout, ways, wood, limit, loss)


def wood_over(layout: Layout, way: SoundholeWay, limit: float, loss: float) -> Remedy | None:
    """The key's axis deeper, or less room round what goes through the bore, where the braces then still have wood under
    it. way: the layout's."""
    room = way.over_braces
    short = 0.0 if room is None else limit - room.value

    def ways(aim: Aim) -> Iterator[Settings]:
        yield from _axis_by(layout.design, short + aim.spare, aim)
        yield from _narrower(layout, short + aim.spare, aim)

    def wood(new: Layout) -> float | None:
        way = new.soundhole_way
        rooms = [] if way is None else [room for room in (way.over_braces, way.under_braces) if room is not None]
        return min((room.value for room in rooms), default=None)

    return _good(layout, ways, wood, limit, loss)


def drawn_out(layout: Layout, lengthways: float, upright: float, loss: float) -> Remedy | None:
    """A shorter key, a shorter or a slimmer handle, or an L-key's other arm in the socket. lengthways, upright: what is
    lacking to the soundhole's far edge, and under the top beyond it."""
    stated = layout.design.adjusting_key
    if stated is None:
        return None

    def ways(aim: Aim) -> Iterator[Settings]:
        key, now = _in_socket(stated)
        yield {key: aim.down(key, now - lengthways - aim.spare)}
        if key == "adjusting_key.long_arm":
            yield {IN_SOCKET: "short"}
        if stated.handle is not None:
            yield {HANDLE_LENGTH: aim.down(HANDLE_LENGTH, stated.handle.length - lengthways - aim.spare)}
            slim = aim.down(HANDLE, stated.handle.diameter - 2 * (upright + aim.spare))
            if layout.key is not None and slim >= layout.key.corners:  # a thinner one is no handle
                yield {HANDLE: slim}

    def free(new: Layout) -> float | None:
        way = new.soundhole_way
        if way is None or new.key is None or way.reach < -SLACK:
            return None
        return max(way.past_edge, way.under_far_edge(new.key))

    return _good(layout, ways, free, 0.0, loss)


def shorter_arm(layout: Layout, short: float, loss: float) -> Remedy | None:
    """An L-key whose hanging arm is shorter, or its other arm hanging."""
    stated = layout.design.adjusting_key
    if stated is None:
        return None
    in_socket = stated.arm_in_socket
    key, now = ("short_arm", stated.short_arm) if in_socket == "long" else ("long_arm", stated.long_arm)

    def ways(aim: Aim) -> Iterator[Settings]:
        name = f"adjusting_key.{key}"
        yield {name: aim.down(name, (now or 0.0) - short - aim.spare)}
        if in_socket == "short":
            yield {IN_SOCKET: "long"}

    def room(new: Layout) -> float | None:
        way = new.soundhole_way
        return None if way is None or new.key is None or way.reach < -SLACK else way.under_arm(new.key)

    return _good(layout, ways, room, 0.0, loss)


def slimmer_handle(layout: Layout, short: float) -> Remedy | None:
    """A handle that goes between the outer string and the soundhole's edge."""
    stated = layout.design.adjusting_key
    if stated is None or stated.handle is None:
        return None
    now = stated.handle.diameter

    def ways(aim: Aim) -> Iterator[Settings]:
        yield {HANDLE: aim.down(HANDLE, now - short - aim.spare)}

    def room(new: Layout) -> float | None:
        way = new.soundhole_way
        return None if way is None else way.beside - way.widest

    return _good(layout, ways, room, 0.0, 0.0)


def _in_socket(stated: AdjustingKey) -> tuple[str, float]:
    """The key's length, or that of the arm in the socket: its key in the file, and what it is."""
    if stated.kind != "L-key":
        return LENGTH, stated.length or 0.0
    arm = stated.long_arm if stated.arm_in_socket == "long" else stated.short_arm
    return f"adjusting_key.{stated.arm_in_socket}_arm", arm or 0.0


def _axis_by(design: Design, more: float, aim: Aim) -> Iterator[Settings]:
    """The adjuster's axis deeper by so much, or higher by as much where it is less than 0."""
    rod = design.rod
    if rod is None:
        return
    now = {AXIS: rod.adjuster.axis_below_top, DEEPER: design.channel.deeper_by}
    if rod.kind == "compression":
        now = {} if rod.axis_depth is None else {BENT_AXIS: rod.axis_depth.adjuster}
    for key, value in now.items():
        yield {key: aim.up(key, value + more) if more > 0 else aim.down(key, value + more)}


def _narrower(layout: Layout, by: float, aim: Aim) -> Iterator[Settings]:
    """Less room round the key, and where the adjuster stands in its bore round that too."""
    channel, way = layout.design.channel, layout.soundhole_way
    play, room = aim.down(PLAY, channel.key_clearance - by), aim.down(ROUND, channel.adjuster_clearance - 2 * by)
    if play >= RANGES[PLAY].low - SLACK:
        yield {PLAY: play}
    if way is not None and len(way.bores) > 1 and room >= RANGES[ROUND].low - SLACK:
        yield {ROUND: room}


def _lower_in_deeper(layout: Layout, wanted: float, aim: Aim) -> Iterator[Settings]:
    """The axis so deep that enough of every brace stays over the bore, and the braces as much deeper as that asks."""
    way = layout.soundhole_way
    over = None if way is None else way.over_braces
    if way is None or over is None or over.value >= wanted - SLACK:
        return
    for settings in _axis_by(layout.design, wanted - over.value, aim):
        more = wanted - over.value + 2 * aim.spare
        deeper: dict[str, float | str] = {}
        for hole in way.braces:
            k = int(hole.name.removeprefix("brace-")) - 1
            lack = 0.0 if hole.under is None else wanted - hole.under.value + more
            if lack > SLACK:
                key = f"body.braces.{k}.depth"
                deeper[key] = aim.up(key, layout.design.body.braces[k].depth + lack)
        yield {**settings, **deeper}


def _good(layout: Layout, ways: Ways, value: Good, limit: float, loss: float) -> Remedy | None:
    """Those of the ways that can be laid out and then reach the limit, with as much to spare as is aimed at."""

    def make(aim: Aim) -> Remedy | None:
        def good(new: Layout) -> bool:
            found = value(new)
            return found is not None and found >= limit + aim.spare - SLACK

        return any_of(*(possible(layout.design, settings, good) for settings in ways(aim)))

    return graded(layout.design, make, loss)
