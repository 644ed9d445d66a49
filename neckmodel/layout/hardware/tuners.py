"""Screws, tuners, nut and key: where their envelopes lie."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.design.values.scale import BEHIND_GROOVE
from neckmodel.layout.access.slot import key_arm, key_pivot, key_tilt, slot_floor
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.hardware.screws import lead_hole
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.neck.outside import Head, Heel
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design

# Envelopes where the design states none; common practice, no source. mm
POST_OF_HOLE = 0.6  # a tuner's post against its hole
POST_HEIGHT = 22.0  # of a post over the head's face
HOUSING_HEIGHT = 12.0  # of a housing under the head's back
LEAST_WAIST = 0.2  # of a ball-end key's size: the radius of its waist behind the ball


Point = tuple[float, float, float]


@dataclass(frozen=True)
class Screw:
    """One screw, insert or dowel in the heel, upright: axis at (x, y), from z_bottom up to its point at z_point, mm.

    bite: its length in the neck's wood. hole: diameter of the hole drilled for it; diameter: of its shank.
    """

    name: str
    kind: str
    x: float
    y: float
    z_bottom: float
    z_point: float
    bite: float
    diameter: float
    hole: float
    length: float


@dataclass(frozen=True)
class TunerPlace:
    """One tuner: centre of its hole on the head's face, the direction of its axis (out of the face), sizes in mm.

    string_height: over the face, where its string leaves the post; tree: a string tree on the string's way, by its
    place along the face and the height of the string's underside over it."""

    name: str
    on_face: Point
    axis: Point
    hole: float
    housing_length: float
    housing_width: float
    head_thickness: float
    string_height: float = 8.0
    tree: tuple[float, float] | None = None


@dataclass(frozen=True)
class NutPlace:
    """The nut: from x_start to x_end on the centre line, as wide as the fretboard there, on z_seat, mm.

    slope: dx/dy of its faces. y_bass, y_treble: where its ends lie, if not half_width off the centre line.
    """

    x_start: float
    x_end: float
    half_width: float
    z_seat: float
    height: float
    slope: float = 0.0
    y_bass: float | None = None
    y_treble: float | None = None

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its plan: bass side back and front, treble side front and back."""
        bass = -self.half_width if self.y_bass is None else self.y_bass
        treble = self.half_width if self.y_treble is None else self.y_treble
        ends = ((self.x_start, bass), (self.x_end, bass), (self.x_end, treble), (self.x_start, treble))
        return tuple((x + self.slope * y, y) for x, y in ends)


@dataclass(frozen=True)
class KeyPlace:
    """The adjusting key in its socket, engaged, mm. corners: widest across corners (of a bar: its diameter). arm: inf
    but for an L-key; rise: length of an L-key's other arm, else 0.

    x_tip: its end in the socket; axis: depth of its axis below z = 0 there; floor: depth of the slot that it needs, at
    its pivot. outward: -1 toward the head, 1 toward the body; tilt: degrees by which it points upward on its way out.
    turn: degrees from one place of the key in the socket to the next.
    A bar stands upright in a wheel: x_tip is the wheel's middle, axis the wheel's, tip_radius how far from that axis
    the bar's end stands.
    """

    kind: str
    size: float
    corners: float
    x_tip: float
    axis: float
    floor: float
    engaged: float
    length: float
    arm: float
    rise: float
    swing: float
    clearance: float
    handle_diameter: float
    handle_length: float
    outward: int = -1
    tilt: float = 0.0
    turn: float = 60.0
    tip_radius: float = 0.0

    @property
    def reach(self) -> float:
        """Length with its handle, mm."""
        return self.length + self.handle_length

    @property
    def way_out(self) -> Point:
        """Unit vector along the key, out of the socket (of a bar: along the wheel's axis)."""
        turn = math.radians(self.tilt)
        return self.outward * math.cos(turn), 0.0, math.sin(turn)


def place_screws(design: Design, heel: Heel) -> tuple[Screw, ...]:
    """Screws driven from under the body; `bite = length - wood under the neck pocket - plate`. Dowels and inserts are
    let into the heel from below by their own length."""
    body = design.body
    placed = []
    counts: dict[str, int] = {}
    for k, screw in enumerate(design.heel.screws):
        word = "screw" if screw.kind == "wood-screw" else screw.kind
        counts[word] = counts.get(word, 0) + 1
        bite = screw.length - (body.under_pocket + heel.plate if screw.kind == "wood-screw" else 0.0)
        if bite <= 0:
            raise design.problem(
                f"heel.screws.{k}.length",
                "the screw does not reach the neck",
                f"more than {body.under_pocket + heel.plate:.2f} mm: the body under the neck pocket and the plate",
            )
        hole = lead_hole(screw.diameter) if screw.kind == "wood-screw" else screw.diameter
        bottom = -heel.depth_at(heel.x_end - screw.from_end)
        placed.append(
            Screw(
                f"{word}-{counts[word]}",
                screw.kind,
                heel.x_end - screw.from_end,
                screw.y,
                bottom,
                bottom + bite,
                bite,
                screw.diameter,
                hole,
                screw.length,
            )
        )
    return tuple(placed)


LEAST_RIM = 0.05  # mm; a hole that touches the outline leaves a solid that hangs together in a line


def place_tuners(design: Design, head: Head) -> tuple[TunerPlace, ...]:
    turn = math.radians(head.angle)
    axis = (-math.sin(turn), 0.0, math.cos(turn))
    placed = []
    for k, tuner in enumerate(design.head.tuners):
        rim = head.rim(tuner.x, tuner.y) - tuner.hole / 2
        if abs(rim) < LEAST_RIM:
            says = "has a hole that just touches the head's outline, which leaves wood of no thickness"
            raise design.problem(f"head.tuners.{k}", says, "", f"move it by {LEAST_RIM:g} mm, or more inward")
        x, z = head.on_face(tuner.x)
        placed.append(
            TunerPlace(
                f"tuner-{k + 1}",
                (x, tuner.y, z),
                axis,
                tuner.hole,
                tuner.housing.length,
                tuner.housing.width,
                head.thickness,
                tuner.string_height,
                None if tuner.tree is None else (tuner.tree.x, tuner.tree.height),
            )
        )
    return tuple(placed)


def place_nut(design: Design, board: Fretboard) -> NutPlace:
    """The nut on its ledge, against the fretboard's end on the glue plane, or in its groove, `seat_depth` deep. Its
    thickness is square to its faces."""
    nut, slope = design.nut, board.slope_start
    seat = -nut.seat_depth if nut.seat == "groove" else 0.0
    back = board.x_start - nut.thickness * math.hypot(1.0, slope)
    (_, bass), (_, treble) = board.start
    placed = NutPlace(back, board.x_start, board.half_width(board.x_start), seat, nut.height, slope, bass, treble)
    strip = nut_strip(placed, board)
    first = min(x for x, _ in (placed.corners if strip is None else strip.start))
    if design.head.starts_at > first + 1e-6:
        far = "nut" if strip is None else "fretboard wood behind the nut"
        at_most = f"at most {no_more(first)}, the far side of the {far}"
        raise design.problem("head.starts_at", "lies under the nut", at_most)
    return placed


def nut_strip(nut: NutPlace, board: Fretboard) -> Fretboard | None:
    """The fretboard's wood behind a nut in a groove, its crown as at the nut; None for a nut on a ledge."""
    if nut.z_seat == 0:
        return None
    radius, back = board.radius_nut, nut.x_start - BEHIND_GROOVE * (nut.x_end - nut.x_start)
    return replace(
        board,
        x_start=back,
        x_end=nut.x_start,
        slots=(),
        radius_nut=radius,
        radius_end=radius,
        slope_start=nut.slope,
        slope_end=nut.slope,
    )


def place_key(design: Design, rod: RodPlace | None, board: Fretboard) -> KeyPlace | None:
    """The stated key in its socket. DesignError where a ball end is engaged too deep to be tilted as it must be."""
    key = design.adjusting_key
    if key is None or rod is None:
        return None
    arm, is_bar = key_arm(key), key.kind == "bar"
    rise = key.short_arm if key.arm_in_socket == "long" else key.long_arm
    pivot, tilt = key_pivot(design, rod), key_tilt(design, rod, board)
    inside = key.engaged_depth
    if key.kind == "ball-end":
        inside = key.size / 2
        _refuse_ball(design, key.size, key.engaged_depth, tilt)
    if is_bar:
        pivot, inside, tilt = rod.x_adjuster - rod.outward * rod.wheel / 2, 0.0, rod.tilt
    turn = math.radians(tilt)
    return KeyPlace(
        kind=key.kind,
        size=key.size,
        corners=key.size if is_bar else across_corners(key.size),
        x_tip=pivot - rod.outward * inside * math.cos(turn),
        axis=rod.axis_at(pivot) + inside * math.sin(turn),
        floor=slot_floor(design, rod.axis_at(pivot), tilt),
        engaged=key.engaged_depth,
        length=arm if key.kind == "L-key" else key.length or 0.0,
        arm=arm,
        rise=(rise or 0.0) if key.kind == "L-key" else 0.0,
        swing=design.channel.key_swing,
        clearance=design.channel.key_clearance,
        handle_diameter=key.handle.diameter if key.handle else 0.0,
        handle_length=key.handle.length if key.handle else 0.0,
        outward=rod.outward,
        tilt=tilt,
        turn=360.0 / rod.holes if rod.holes else 60.0,
        tip_radius=rod.adjuster_diameter / 2 - key.engaged_depth if is_bar else 0.0,
    )


def ball_waist(size: float, engaged: float, tilt: float) -> float:
    """Largest radius, mm, of a ball-end key's waist that clears the socket's rim when tilted by so many degrees.

    The ball's middle stands `e - s/2` inside the socket's face: `(s/2) cos(t) - (e - s/2) sin(t)`.
    """
    turn = math.radians(tilt)
    return size / 2 * math.cos(turn) - max(engaged - size / 2, 0.0) * math.sin(turn)


def _refuse_ball(design: Design, size: float, engaged: float, tilt: float) -> None:
    lack = LEAST_WAIST * size - ball_waist(size, engaged, tilt)
    if lack > 0:
        most = engaged - lack / math.sin(math.radians(tilt))
        says = f"does not let a ball-end key tilt by the {tilt:.0f} degrees at which it passes"
        raise design.problem("adjusting_key.engaged_depth", says, f"at most {no_more(max(most, size / 2))}")
