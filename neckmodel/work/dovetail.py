"""The order of work on a dovetail, its mortise, and the heel's cap."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.work import cautions
from neckmodel.work.blank import ends_early
from neckmodel.work.operation import GLUING, Work, words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.work.operation import Words

DEEPER = 1.0  # mm that the mortise is cut deeper than the dovetail; common practice, no source
CAP_OVER = 1.0  # mm that the cap is left over at each side until it is trimmed; common practice, no source


def cut_dovetail(layout: Layout) -> Work | None:
    """Cutting the dovetail's cheeks and the shoulders, at the angle of the neck to the body; None without one."""
    tenon, say = layout.heel.tenon, words_of(layout)
    if not isinstance(tenon, Dovetail):
        return None
    x0, x1, off = say(tenon.x_root), say(tenon.x_end), layout.design.workshop.tolerances.stock
    end, root = [_widths(say, tenon, x) for x in (tenon.x_end, tenon.x_root)]
    sawn = f"The body end is sawn off at x {x1}." if ends_early(layout) else f"Saw off the body end at x {x1}."
    return Work(
        "Cut the dovetail",
        (
            f"{sawn} Mark the shoulders all round at the joint, x {x0}. Mark the dovetail "
            f"with its template, or so: on the glue plane {end[0]} wide at the end and {root[0]} at the joint; "
            f"{say(tenon.depth)} below that, where its bottom lies, {end[1]} wide at the end and {root[1]} at the "
            "joint; all of it even about the centre line.",
            f"The cheeks widen toward the body by {tenon.flare:g} deg each, and lean inward by {tenon.taper:g} deg on "
            "their way down. Saw them a little full, then saw the shoulders, and pare both to the lines: the cheeks "
            "must be flat, or the joint closes in one place only.",
            f"{lean_words(layout)} Pare the shoulders hollow inside by a hair, so that their edges close on the body.",
        ),
        (cautions.SAW, cautions.DUST, cautions.CHISEL),
        checks=(
            f"at its end the dovetail is {say.between(2 * tenon.half_width, off)} wide at the glue plane and "
            f"{say.between(2 * tenon.half_at(tenon.x_end, tenon.depth), off)} at its bottom",
            f"it is {say.between(tenon.depth, off)} deep and {say(tenon.x_end - tenon.x_root)} long",
        ),
    )


def _widths(say: Words, tenon: Dovetail, x: float) -> tuple[str, str]:
    """The dovetail's width at the glue plane and at its bottom."""
    return say(2 * tenon.half_at(x)), say(2 * tenon.half_at(x, tenon.depth))


LEVEL = 0.005  # deg; a smaller angle of the neck counts as none


def lean_words(layout: Layout) -> str:
    """How shoulders and cheeks of a dovetail stand for the neck's angle to the body."""
    say, action, heel = words_of(layout), layout.action, layout.heel
    if action.angle is None:
        return (
            "The shoulders stand square to the glue plane: a neck without an angle. State action.bridge_height, and "
            "the angle stands here."
        )
    if abs(action.angle) < LEVEL:
        return "The shoulders stand square to the glue plane: the bridge as stated asks for no angle."
    by = heel.depth * math.tan(math.radians(action.angle))
    way = ("back", layout.head.named) if by > 0 else ("forward", "body")
    return (
        f"The neck stands {abs(action.angle):.2f} deg {way[0]} from the body, for strings {say(action.bridge or 0.0)} "
        f"over it at the bridge: lean the shoulders so that at the heel's bottom, {say(heel.depth)} down, they lie "
        f"{say(abs(by))} farther toward the {way[1]} than at the glue plane, and let the cheeks' root and end lean "
        "with them."
    )


def mortise_words(layout: Layout, tenon: Dovetail) -> str:
    """Cutting the mortise for a dovetail."""
    say = words_of(layout)
    deep = say(tenon.depth + DEEPER)
    return (
        f"Cut the mortise in the body to the dovetail, open to the top and {deep} deep from the glue plane's height, "
        f"{say(DEEPER)} more than the dovetail. Leave its cheeks a little tight, and let the neck down from above: "
        "the cheeks lean, so it closes as it goes down. Chalk shows where they touch; pare there, little by little, "
        "until the shoulders close all round and the neck stands at its height."
    )


def glue_cap(layout: Layout) -> Work | None:
    """Gluing the cap under the heel; None without one."""
    place, say = layout.heel_cap, words_of(layout)
    if place is None:
        return None
    length, width, thick = place.size
    off = layout.design.workshop.tolerances.stock
    return Work(
        "Glue on the heel's cap",
        (
            f"Plane the heel's bottom flat. Cut the cap of {place.cap.wood}, {say.sizes((length, width, thick))} when "
            f"it is done, from a piece {say(CAP_OVER)} larger at every side. Glue it under the heel, its body edge "
            f"level with the shoulders. {GLUING}",
            "Trim it to the heel's outline with chisel and file, cutting from its edge inward, so that nothing splits "
            "off.",
        ),
        (cautions.CHISEL, cautions.DUST, cautions.GLUE),
        checks=(f"the heel is now {say.between(layout.heel.depth + thick, off)} deep, its cap included",),
    )
