"""The one way from a design to its layout."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.access.bore import bore_steps
from neckmodel.layout.access.place import place_key
from neckmodel.layout.access.slot import access_steps
from neckmodel.layout.access.soundhole import place_way
from neckmodel.layout.body.place import body_remarks, place_body, with_drawn_cutouts
from neckmodel.layout.body.recess import body_recesses
from neckmodel.layout.body.top import Top, place_top
from neckmodel.layout.body.wings import body_wings
from neckmodel.layout.channel.behind import from_behind, place_back_strip, proud_of_back, refuse_behind
from neckmodel.layout.channel.cutters import Cutting, cut_step
from neckmodel.layout.channel.measured import as_cut
from neckmodel.layout.channel.seat import lift_of, seated
from neckmodel.layout.channel.step import Step, alone
from neckmodel.layout.channel.steps import bar_steps, rod_steps
from neckmodel.layout.channel.walls import walls_by_section
from neckmodel.layout.fretboard.fretboard import lay_out_fretboard
from neckmodel.layout.fretboard.nut import place_nut
from neckmodel.layout.hardware.clamp import place_clamp
from neckmodel.layout.hardware.peg import place_peg
from neckmodel.layout.hardware.screws import place_screws
from neckmodel.layout.hardware.slots import place_slots
from neckmodel.layout.hardware.tuners import place_tuners
from neckmodel.layout.layout import Layout
from neckmodel.layout.neck.back import Back
from neckmodel.layout.neck.ends import place_outside
from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.refusals.fretboard import refuse_fretboard
from neckmodel.layout.refusals.nut import refuse_nut
from neckmodel.layout.refusals.pair import refuse_pair
from neckmodel.layout.refusals.scarf import refuse_scarf
from neckmodel.layout.refusals.shaft import refuse_outside
from neckmodel.layout.rod.bars import Bar, place_bars
from neckmodel.layout.rod.place import place_rods
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.layout.stations import (
    body_stations,
    channel_stations,
    fretboard_stations,
    hardware_stations,
    in_order,
    neck_stations,
    slot_stations,
)
from neckmodel.layout.strings.frets import Frets, place_frets
from neckmodel.layout.strings.strings import place_strings
from neckmodel.layout.wood.blank import level_depth, side_profile, with_fretboard
from neckmodel.layout.wood.pieces import core_half, neck_pieces
from neckmodel.layout.wood.scarf import Scarf, place_scarf
from neckmodel.layout.wood.strips import lay_strips

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.design import Design
    from neckmodel.geometry.types import Point
    from neckmodel.layout.fretboard.fretboard import Fretboard


AUDIBLE = 0.5  # cent of fret error worth a remark, far less than anybody hears; common practice, no source


@dataclass(frozen=True)
class _Neck:
    """The neck that is strung and carved, before anything is cut into it."""

    frets: Frets
    board: Fretboard
    outside: Outside


@dataclass(frozen=True)
class _Channel:
    """What lies in the neck, and the steps for it as they follow from the design and as they are cut."""

    rods: tuple[RodPlace, ...]
    bars: tuple[Bar, ...]
    planned: tuple[Step, ...]
    steps: tuple[Step, ...]


def lay_out(design: Design) -> Layout:
    """Every derived number of a design, without the CAD kernel. Raises DesignError, naming the key to change, where no
    such neck can be laid out."""
    neck = _neck(design)
    frets, board, outside = neck.frets, neck.board, neck.outside
    head, heel = outside.head, outside.heel
    body = place_body(design, heel.x_joint, frets.scale, outside.half_width(heel.x_end))
    design = with_drawn_cutouts(design, body)
    top = place_top(design, frets)
    channel = _channel(design, neck, top)
    rods, bars, steps = channel.rods, channel.bars, channel.steps
    keys = tuple(key for rod in rods if (key := place_key(design, rod, board, top)) is not None)
    way = place_way(design, next(iter(rods), None), next(iter(keys), None), top, heel.x_end, frets)
    screws, tuners, nut = place_screws(design, heel), place_tuners(design, head), place_nut(design, board)
    slots, peg, clamp = place_slots(design, outside), place_peg(design, outside), place_clamp(design, head, nut, board)
    refuse_nut(design, nut, outside.back)
    half, profile = core_half(design, outside), _profile(design, outside, board)
    scarf, stock = _scarf(design, outside), design.board
    return Layout(
        design=design,
        frets=frets,
        fretboard=board,
        back=outside.back,
        head=head,
        heel=heel,
        outside=outside,
        rods=rods,
        bars=bars,
        steps=steps,
        planned_steps=channel.planned,
        cuttings=_cuttings(design, steps, profile),
        walls=walls_by_section(outside, steps),
        screws=screws,
        tuners=tuners,
        nut=nut,
        keys=keys,
        blank_profile=profile,
        blank_half_width=half,
        board=None if stock is None else stock.trued,
        stations=in_order(
            neck_stations(outside, scarf),
            fretboard_stations(board, nut, frets, peg),
            channel_stations(rods, bars, steps),
            hardware_stations(screws, tuners, clamp),
            slot_stations(slots, head),
            body_stations(way),
        ),
        scarf=scarf,
        pieces=neck_pieces(design, outside, scarf, half, profile),
        body=body,
        remarks=_remarks(design, outside, frets) + body_remarks(body),
        recesses=body_recesses(design, rods, keys, heel.x_end),
        body_wings=body_wings(design, heel, body),
        soundhole_way=way,
        strips=lay_strips(design),
        back_strip=place_back_strip(design, steps, outside),
        slots=slots,
        peg=peg,
        clamp=clamp,
    )


def _profile(design: Design, outside: Outside, board: Fretboard) -> tuple[Point, ...]:
    """The blank's side; of a neck in one piece with its fretboard as high as both."""
    profile = side_profile(outside, design.allowance.ends, design.allowance.back)
    if not design.fretboard.in_one:
        return profile
    return with_fretboard(profile, min(x for x, _ in board.start), board.thickness)


def _scarf(design: Design, outside: Outside) -> Scarf | None:
    scarf = place_scarf(design, outside)
    refuse_scarf(design, outside, scarf)
    return scarf


def _cuttings(design: Design, steps: tuple[Step, ...], profile: Sequence[Point]) -> tuple[Cutting, ...]:
    """How each step is cut, as the router sees it: from the face on which it stands. A bore is drilled."""
    shop, chosen = design.workshop, tuple(step for step in steps if not step.bored)
    routed, base, found = tuple(step.from_face for step in chosen), shop.router_base or 0.0, []
    for step, seen in zip(chosen, routed, strict=True):
        lift = proud_of_back(profile, step.face, step.x_start - base, step.x_end + base) if step.behind else 0.0
        found += [cut_step(seen, shop, routed, lift)] if shop.cutters else []
    return tuple(found)


def _neck(design: Design) -> _Neck:
    spans = design.strings.spans
    placed = place_frets(design, spans)
    board = lay_out_fretboard(design, spans, placed)
    frets = Frets(spans, placed, place_strings(design, spans, board.top))
    refuse_fretboard(design, board, frets)
    outside = place_outside(design, board, _back(design, board, frets), frets.x(design.neck.joint_fret))
    refuse_outside(design, outside)
    return _Neck(frets, board, outside)


def _back(design: Design, board: Fretboard, frets: Frets) -> Back:
    neck = design.neck
    return Back(
        half_nut=board.half_nut,
        slope=board.slope,
        fretboard_thickness=board.thickness,
        x_1=frets.x(1),
        x_12=frets.x(12),
        t_1=neck.thickness.fret_1,
        t_12=neck.thickness.fret_12,
        p_1=neck.back.fret_1.fullness,
        p_12=neck.back.fret_12.fullness,
        apex_1=-neck.back.fret_1.lean,
        apex_12=-neck.back.fret_12.lean,
        later=board.later,
    )


def _channel(design: Design, neck: _Neck, top: Top) -> _Channel:
    """Rod, bars and steps. planned: of the rod where the plan has it; steps: of the rod as it lies on what was cut."""
    frets, board, x_wood_end = neck.frets, neck.board, neck.outside.heel.x_end
    rods = place_rods(design, frets, x_wood_end, board)
    bars = place_bars(design, frets, x_wood_end, board)
    planned = _steps(design, rods, bars, neck, top)
    steps = as_cut(design, planned)
    deeper = design.channel.deeper_by
    lifts = [lift_of(rod, alone(planned, rod.number), alone(steps, rod.number), deeper) for rod in rods]
    if any(lifts):  # steps that are not cut yet follow the rod to its higher place
        rods = place_rods(design, frets, x_wood_end, board, lifts)
        steps = as_cut(design, _steps(design, rods, bars, neck, top))
    refuse_pair(design, steps)
    return _Channel(rods, tuple(seated(bar, planned, steps) for bar in bars), planned, steps)


def _steps(
    design: Design, rods: tuple[RodPlace, ...], bars: tuple[Bar, ...], neck: _Neck, top: Top
) -> tuple[Step, ...]:
    steps: tuple[Step, ...] = ()
    rack = [c.diameter for c in design.workshop.cutters]
    for rod in rods:
        width = (rod.diameter or rod.table.width) + design.channel.wider_by
        end_cutter = max((d for d in rack if d <= width + 1e-6), default=width)
        smallest, x_wood_end = min(rack, default=0.0), neck.outside.heel.x_end
        found = rod_steps(design, rod, end_cutter, smallest, x_wood_end)
        if design.channel.from_behind:
            face = level_depth(neck.outside, design.allowance.back)
            found = from_behind(rod, found, design.channel.adjuster_clearance, face)
            refuse_behind(design, found)
            found += bore_steps(design, rod, neck.outside.head, x_wood_end)
        else:
            found += access_steps(design, rod, neck.outside.head, smallest, x_wood_end, neck.board, top)
        steps += tuple(replace(step, name=step.name + rod.suffix, y=rod.y) for step in found) if rod.number else found
    return steps + bar_steps(bars, design.channel.end_clearance)


def _remarks(design: Design, outside: Outside, frets: Frets) -> tuple[str, ...]:
    remarks = []
    if outside.heel.x_swell < frets.x(12):
        remarks.append(
            f"the heel's swell starts at x {outside.heel.x_swell:.2f} mm, before fret 12: "
            f"measure the thickness there instead, {outside.back.thickness(outside.heel.x_swell):.2f} mm"
        )
    worst = frets.worst
    if abs(worst.worst.cents) > AUDIBLE:
        remarks.append(
            f"string {worst.number} does not divide nut and saddle alike: its fret {worst.worst.fret} is off by "
            f"{abs(worst.worst.mm):.3f} mm, {abs(worst.worst.cents):.2f} cent"
        )
    if design.nut.seat == "groove":
        remarks.append("the fretboard's wood behind the nut is as high as the fretboard: carve it clear of the strings")
    later = frets.strings[0]
    if later.fret:
        remarks.append(
            f"string {later.number} starts at fret {later.fret}, x {later.x_nut:.2f} mm: what is told of it at the nut "
            "is told of that place"
        )
        remarks.append(
            f"the nut's middle lies {outside.middle(0.0):.2f} mm to the treble side of the centre line, and the head "
            "is even about that line: a head that follows the nut needs an outline drawn so"
        )
    return tuple(remarks)
