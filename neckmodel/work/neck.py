"""The order of work on the neck: tenon, holes, plan, back, and the fit to the body."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.work import cautions
from neckmodel.work.dovetail import mortise_words
from neckmodel.work.later import back_words, plan_words
from neckmodel.work.nut_end import clamp_holes, saw_head, saw_nut_end
from neckmodel.work.operation import GLUING, Work, words_of
from neckmodel.work.strips import met_by_holes
from neckmodel.work.words import side_mark_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SAME = 1e-6  # mm
SPARE = 1.0  # mm left outside the fretboard's lines when the sides are sawn; common practice, no source


def cut_tenon(layout: Layout) -> Work | None:
    """Cutting the tenon's cheeks and shoulders, at the angle of the neck to the body; None without a tenon, and
    for a dovetail, which has its own."""
    heel, say, action = layout.heel, words_of(layout), layout.action
    if heel.tenon is None or isinstance(heel.tenon, Dovetail):
        return None
    off = layout.design.workshop.tolerances.stock
    cheek = say(heel.tenon.half_width)
    if action.angle is None:
        stands = f", for strings {say(action.level)} over the body at the bridge" if knows_body(layout) else ""
        lean = (
            f"The shoulders stand square to the glue plane: a neck without an angle{stands}. State "
            "action.bridge_height, and the angle stands here."
        )
    elif abs(action.angle) < LEVEL:
        lean = "The shoulders stand square to the glue plane: the bridge as stated asks for no angle."
    else:
        by = heel.depth * math.tan(math.radians(action.angle))
        way = ("back", layout.head.named) if by > 0 else ("forward", "body")
        lean = (
            f"The neck stands {abs(action.angle):.2f} deg {way[0]} from the body, for strings "
            f"{say(action.bridge or 0.0)} over it at the bridge: lean the shoulders so that at the heel's bottom, "
            f"{say(heel.depth)} down, they lie {say(abs(by))} farther toward the {way[1]} than at the glue plane. The "
            "cheeks stay upright; the tenon's end leans with them."
        )
    return Work(
        "Cut the tenon",
        (
            f"Mark the shoulders all round at the joint, x {say(heel.x_joint)}, and the cheeks {cheek} either side of "
            f"the centre line, from there to x {say(heel.x_end)}. Saw off the body end at x {say(heel.x_end)}, saw the "
            f"cheeks, then the shoulders, and pare both to the lines. The tenon's bottom lies {say(heel.tenon.depth)} "
            "below the glue plane.",
            f"{lean} Pare the shoulders hollow inside by a hair, so that their edges close on the body.",
        ),
        (cautions.SAW, cautions.DUST, cautions.CHISEL),
        checks=(
            f"the tenon is {say.between(2 * heel.tenon.half_width, off)} thick across its cheeks, "
            f"{say.between(heel.tenon.depth, off)} deep and {say(heel.x_end - heel.x_joint)} long",
        ),
    )


LEVEL = 0.005  # deg; a smaller angle counts as none


def knows_body(layout: Layout) -> bool:
    """Whether the design states how high the fretboard lies over the body, or a value from which that follows."""
    keys = (
        "action.bridge_height",
        "action.fretboard_above_body",
        "body.top",
        "heel.neck_pocket_depth",
        "body.under_pocket",
    )
    return any(layout.design.stated(key) for key in keys)


def head_wings(layout: Layout) -> Work | None:
    """Gluing on the head's wings; None without any."""
    wings = [piece for piece in layout.pieces if piece.name.startswith("wing") and piece.seam is not None]
    if not wings:
        return None
    say = words_of(layout)
    said = [
        f"{plain(wing.name)}, {say.sizes(wing.stock)}: along the head at y {say(layout.across(wing.seam))}."
        for wing in wings
        if wing.seam is not None
    ]
    return Work(
        "Glue on the wings of the head",
        (
            "Plane the sides of the head and of the wings, and try every joint dry: no light through it. The wings' "
            f"faces lie level with the head's, and their grain runs along it. {GLUING}",
            *said,
        ),
        (cautions.DUST, cautions.GLUE),
        checks=("no step from head to wing under a straightedge",),
    )


HOW_DRILLED = (
    "Punch the middle of every hole, and drill in a stand or along a guide, square to the face it starts from."
)


def drill(layout: Layout) -> Work | None:
    """Drilling all holes, while the edges are still straight and square; None without any."""
    clamp = clamp_holes(layout)
    if not (layout.screws or layout.tuners or clamp):
        return None
    say, head = words_of(layout), layout.head
    said, checks = [], []
    for screw in layout.screws:
        said.append(
            f"{plain(screw.name)} ({screw.kind}): hole {say.tool(screw.hole)} across, "
            f"{say(screw.z_point - screw.z_bottom)} deep from the heel's bottom, at x {say(screw.x)}, y "
            f"{say(layout.across(screw.y))}."
        )
    said += clamp
    for tuner in layout.tuners:
        x = tuner.on_face[0]
        on_face = (head.x_line - x) / math.cos(math.radians(head.angle))
        said.append(
            f"{plain(tuner.name)}: hole {say.tool(tuner.hole)} across, through, square to the head's face, "
            f"{say(on_face)} from the head line along the face (x {say(x)}), at y "
            f"{say(layout.across(tuner.on_face[1]))}."
        )
        if tuner.tree is not None:
            along, height = tuner.tree
            said.append(
                f"String tree of {plain(tuner.name)}: {say(-along)} from the head line along the face. Screw it on "
                f"when the neck is strung, so that it holds the string {say(height)} over the face."
            )
    said += met_by_holes(layout)
    if layout.screws or clamp:
        checks.append("the drill's stop is set, and a hole in scrap is no deeper")
    if layout.tuners:
        checks.append("a tuner goes into a hole in scrap")
    said.insert(0, HOW_DRILLED)
    return Work("Drill", tuple(said), (cautions.DRILL, cautions.DUST), checks=tuple(checks))


def saw_plan(layout: Layout) -> Work:
    """Sawing the taper, the heel's plan and the outline of head or nut end."""
    say, back, head, heel = words_of(layout), layout.back, layout.head, layout.heel
    x_to = heel.x_joint if heel.half_width is None else heel.x_swell
    says = [
        f"Saw the shaft's sides {say(SPARE)} outside the fretboard's lines, which lie {say(2 * back.half_width(0.0))} "
        f"apart at the nut and {say(2 * back.half_width(x_to))} at x {say(x_to)}. The rest goes "
        f"{'when the back is carved' if layout.in_one else 'once the fretboard is on'}.{plan_words(layout)}",
    ]
    if heel.half_width is not None:
        what, wide = "centre block" if heel.kind == "through" else "heel", say(2 * heel.half_width)
        says.append(f"The {what} is {wide} wide from the joint, x {say(heel.x_joint)}; the sides swell out to it.")
    if heel.kind == "bolted" and heel.corner_radius > 0:
        says.append(f"Round the heel's two rear corners to a radius of {say(heel.corner_radius)}.")
    says.append(saw_nut_end(layout) if head.is_none else saw_head(layout))
    return Work(f"Saw the taper and the {head.named}'s outline", tuple(says), (cautions.SAW, cautions.DUST))


def wings_of_body(layout: Layout) -> Work | None:
    """Gluing the body's wings to a neck that runs through, from its sides outward; None without any."""
    say, wings = words_of(layout), sorted(layout.body_wings, key=lambda wing: abs(wing.seam))
    if not wings:
        return None
    said = [
        f"{plain(wing.name)}, {say.sizes(wing.stock)}: from x {say(wing.x_start)}, its inner side at y "
        f"{say(layout.across(wing.seam))}."
        for wing in wings
    ]
    says = (
        "True the block's sides and the wings' inner sides, and try every joint dry: no light through it. One side "
        f"after the other, the upper faces level. {GLUING}"
    )
    return Work("Glue on the wings of the body", (says, *said), (cautions.SAW, cautions.DUST, cautions.GLUE))


def carve(layout: Layout) -> Work:
    """Planing the sides flush and carving the back."""
    say, back, heel, off = words_of(layout), layout.back, layout.heel, layout.design.workshop.tolerances.carve
    says = [
        "Plane the sides to the fretboard's lines." if layout.in_one else "Plane the sides flush with the fretboard.",
        *([f"{marks} Drill and fill them in the planed side."] if (marks := side_mark_words(layout)) else []),
        f"Carve the back to {say(back.t_1)} at fret 1 and {say(back.t_12)} at fret 12, fretboard included, by the "
        "sheet of cross sections. Stop early, measure, write what you found under [measured], and only then go on."
        + back_words(layout),
    ]
    if heel.half_bottom is not None:
        places = [share * heel.depth for share in (0.25, 0.5, 0.75, 1.0)]
        top = 2 * layout.outside.half_width(heel.x_joint)
        at = ", ".join(f"{say(top * heel.narrowing(deep))} at {say(deep)}" for deep in places)
        says.append(
            f"The heel narrows on its way down, evenly to both sides of the centre line. At the joint it is {say(top)} "
            f"wide at the glue plane and, by the depth below that, {at}, which is its bottom."
        )
    if head := layout.head.volute:
        says.append(f"Leave the volute: {say(head.height)} more than that at its top, x {say(head.x_middle)}.")
    return Work(
        "Plane the sides flush and carve the back",
        tuple(says),
        (cautions.CHISEL, cautions.DUST, cautions.ESTIMATES),
        checks=(
            f"the neck is {say.between(back.t_1, off)} thick at fret 1 and {say.between(back.t_12, off)} at fret 12"
            + ("" if layout.fretless else ", frets left out"),
        ),
    )


def fit_to_body(layout: Layout) -> Work | None:
    """Fitting the tenon, setting the neck's angle, and making room in the body for an adjuster at the heel and its key;
    None where nothing is to be done."""
    action = layout.action
    said, checks = [], []
    if layout.heel.tenon is not None:
        said.append(
            mortise_words(layout, layout.heel.tenon)
            if isinstance(layout.heel.tenon, Dovetail)
            else "Pare cheeks and shoulders until the neck goes in by hand, its shoulders closed all round and the "
            "centre line on the body's."
        )
        checks += [f"dry, before any glue: {_over_bridge(layout)}"] if knows_body(layout) else []
    elif layout.heel.kind == "bolted" and action.angle is not None and abs(action.angle) >= LEVEL:
        way = "back" if action.angle > 0 else "forward"
        said.append(
            f"The neck stands {abs(action.angle):.2f} deg {way} from the body: cut the floor of the neck pocket to "
            "that angle, or fill it with a wedge as large as the pocket."
        )
        checks.append(_over_bridge(layout))
    said += _recesses(layout)
    if layout.soundhole_way is not None:
        checks.append(
            "dry, with the rod in its channel: the key goes in through the soundhole, turns the adjuster from flat to "
            "flat and comes out again"
        )
    if layout.heel.tenon is not None:
        said.append(_glued_in(layout))
    if not said and not checks:
        return None
    routed = bool(layout.recesses)
    tenon = (cautions.CHISEL, cautions.GLUE) if layout.heel.tenon is not None else ()
    return Work(
        "Fit the neck to the body",
        tuple(said),
        (*tenon, *((cautions.ROUTER, cautions.DUST) if routed else ())),
        checks=tuple(checks),
    )


def _glued_in(layout: Layout) -> str:
    """Gluing in a tenon; with it the fretboard's end, where the glue plane lies level with the body's top."""
    over = knows_body(layout) and abs(layout.design.body.top) < SAME and layout.fretboard.x_end > layout.heel.x_joint
    name = "tenon" if layout.heel.tenon is None else layout.heel.tenon.name
    return (
        f"When it fits dry, and not before, glue the {name} in"
        + (", and with it the end of the fretboard, which lies on the body" if over else "")
        + ". A clamp "
        + ("presses the dovetail down" if name == "dovetail" else "draws the shoulders home")
        + f"; try the centre line once more before the glue sets. {GLUING}"
    )


def _over_bridge(layout: Layout) -> str:
    """The height at which a straightedge along the bare fretboard passes over the bridge: that of the frets' line, less
    a fret."""
    say, action = words_of(layout), layout.action
    line = action.over_body if action.bridge is None else action.bridge - action.at_bridge
    fret, scale = layout.design.fretboard.fret_stands, layout.frets.scale
    over = "" if layout.fretless else f" (over frets {say(line)})"
    return (
        f"a straightedge along the middle of the bare fretboard stands {say(line - fret)} over the body at the bridge, "
        f"x {say(scale)}{over}"
    )


def _recesses(layout: Layout) -> list[str]:
    say, said = words_of(layout), []
    for recess in layout.recesses:
        deep = say(recess.depth)
        if recess.depth_end != recess.depth:
            deep = f"{deep} at its start to {say(recess.depth_end)} at its end"
        turns = f"; the key turns in it by {recess.swing:g} deg" if recess.swing else ""
        name = plain(recess.name) if layout.paired else f"the {recess.name}"
        middle = f", its middle at y {say(layout.across(recess.y))}" if layout.paired else ""
        said.append(
            f"For {name}: x {say(recess.x_start)} to {say(recess.x_end)}, {say(recess.width)} wide{middle}, {deep} "
            f"below the glue plane{turns}."
        )
    if not said:
        return []
    return [
        "Beyond the neck's wood the body must be open from its top. Mark this with the neck in its place, and rout it "
        "in the body.",
        *said,
    ]
