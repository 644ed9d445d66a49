"""Small blocks with the neck's own pockets, slot and head face, to try rod and key before wood is cut."""

from __future__ import annotations

from neckmodel.findings import Finding, yes_no_finding
from neckmodel.jigs.shaping import box
from neckmodel.jigs.types import AS_IT_STANDS, Bare, Draft, JigError, Label
from neckmodel.layout import Layout
from neckmodel.layout.channel.step import Step, StepName
from neckmodel.layout.sides import Side
from neckmodel.limits import BED_MARGIN, POCKET_DEPTH, POCKET_VOLUME
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.channel import tool
from neckmodel.solids.kernel.gate import common, cut
from neckmodel.solids.kernel.shapes import sideways

# isort: split
import cadquery as cq

# mm; common practice, no source
FLOOR = 4.0  # material under the deepest pocket
BASS_SIDE, TREBLE_SIDE = 8.0, 24.0  # beside the widest step; the label has room on the treble side
RUN = 75.0  # length of the run in the block, behind the adjuster's pocket or before the far end
BEYOND = 12.0  # behind the channel's closed end, or on the head before the slot
FINE = 0.002  # mm, deflection of the meshes compared


def refuse(layout: Layout) -> None:
    """Raises JigError where the design has no channel."""
    if layout.back_strip is not None:
        says = "it copies a channel that is open toward the fretboard, and this one is cut from the back; "
        says += "try the rod in a cut in scrap"
        raise JigError(f"trial-block: {says}")
    if not layout.steps:
        raise JigError("trial-block: the design has no channel: it states neither a rod nor bars")


def draft(layout: Layout) -> Draft:
    """The blocks."""
    blocks = tuple(_block(layout, name, says, x) for name, says, x in _places(layout))

    def check() -> list[Finding]:
        return [_pocket(layout, bare) for bare in blocks]

    return Draft(
        blocks,
        (),
        (check,),
        (
            "Print it as it stands; holes print a little small: clean the pockets' walls before the rod is tried.",
            "It shows whether rod and key go in and turn; it says nothing about strength.",
        ),
    )


def middle_steps(layout: Layout) -> list[Step]:
    """The steps of the rod, of two the bass side's, for both are alike; those of the bars where there is no rod."""
    if layout.paired:
        return [step for step in layout.steps if step.rod == 1]
    return [step for step in layout.steps if step.y == 0.0] or list(layout.steps[:1])


def _places(layout: Layout) -> list[tuple[str, str, tuple[float, float]]]:
    """(name, use, x range) of the blocks: round the adjuster, or else the start; and round the far end."""
    steps = middle_steps(layout)
    low, high = min(s.x_start for s in steps), max(s.x_end for s in steps)
    left = min(low, layout.head.x_top) - BEYOND if low < 0 else low - BEYOND
    if layout.head.is_none:  # it ends with the neck, so that a key comes in through its end
        left = max(left, layout.head.x_far)
    right = min(high + BEYOND, max(layout.heel.x_end, high + 1.0))
    ends = {s.kind: s for s in steps}
    rod = layout.rod
    near, far = ("nut", "far") if rod is None else (StepName.ADJUSTER, StepName.ANCHOR)
    if rod is not None and rod.at_heel:
        near, far = far, near
    first = max((s.x_end for s in steps if s.kind != StepName.RUN and s.x_start < (low + high) / 2), default=low)
    last = min((s.x_start for s in steps if s.kind != StepName.RUN and s.x_end > (low + high) / 2), default=high)
    first = ends[StepName.ADJUSTER].x_end if StepName.ADJUSTER in ends and near == StepName.ADJUSTER else first
    to_first, from_last = first + RUN, last - RUN
    if to_first >= from_last:
        bed = layout.design.workshop.printer.bed
        if right - left <= max(bed[:2]) - 2 * BED_MARGIN:
            return [("whole", "the whole channel", (left, right))]
        to_first, from_last = (left + right + RUN) / 2, (left + right - RUN) / 2  # two halves that overlap
    return [
        (near, f"the {near} end of the channel", (left, to_first)),
        (far, f"the {far} end of the channel", (from_last, right)),
    ]


def _block(layout: Layout, name: str, says: str, x: tuple[float, float]) -> Bare:
    steps = [step for step in layout.steps if step.x_end > x[0] and step.x_start < x[1]]
    inside = [step for step in steps if step in middle_steps(layout)]
    widest, y = max(step.width for step in inside) / 2, inside[0].y
    low, high = y - widest - BASS_SIDE, y + widest + TREBLE_SIDE
    bottom = -max(step.depth for step in inside) - FLOOR
    if x[0] < layout.head.x_top:
        bottom = min(bottom, layout.head.face(x[0]) - FLOOR)
    body = sideways(_profile(layout, x, bottom), low, high, f"trial block {name}")
    solid = cut(body, [tool(layout, step).solid for step in inside], f"trial block {name}")
    start = max(x[0], layout.head.x_top)
    label = Label(
        (name, Side.TREBLE, "up"),
        ((start + x[1]) / 2, high - TREBLE_SIDE / 2, 0.0),
        (1.0, 0.0, 0.0),
        (0.0, 1.0, 0.0),
        x[1] - start,
        TREBLE_SIDE,
    )
    return Bare(name, says, solid, AS_IT_STANDS, label)


def _profile(layout: Layout, x: tuple[float, float], bottom: float) -> list[tuple[float, float]]:
    """Side view: the glue plane, the step and the head's face, and a level floor."""
    head = layout.head
    if x[0] >= head.x_line or head.is_none:
        return [(x[0], 0.0), (x[1], 0.0), (x[1], bottom), (x[0], bottom)]
    top = [(x[1], 0.0), (head.x_line, 0.0)]
    top += [(head.x_line, -head.drop)] if head.drop > 0 else []
    return [*top, (x[0], head.face(x[0])), (x[0], bottom), (x[1], bottom)]


def _pocket(layout: Layout, bare: Bare) -> Finding:
    """Compares the block with the blank itself, within the block's own room down to just under the deepest pocket."""
    sawn = _blank(layout)
    mesh = mesh_of(bare.solid, FINE)
    (x0, y0, _), (x1, y1, _) = (tuple(map(float, end)) for end in mesh.bounds)
    deepest = max(step.depth for step in middle_steps(layout) if step.x_end > x0 and step.x_start < x1)
    half = layout.blank_half_width
    room = box((x0, x1), (max(y0, -half), min(y1, half)), (-deepest - FLOOR / 4, 1.0))
    wood = to_manifold(mesh_of(common(sawn, [room], "the blank beside the block"), FINE), "blank")
    block = to_manifold(mesh, bare.name) ^ to_manifold(mesh_of(room, FINE), "room")
    parts = [wood - block, block - wood]
    volume = sum(part.volume() for part in parts)
    depth = max(
        (2 * p.volume() / p.surface_area() for part in parts for p in part.decompose() if p.volume() > 1e-3),
        default=0.0,
    )
    good = volume < POCKET_VOLUME and depth < POCKET_DEPTH
    return yes_no_finding(
        check="jig/pocket",
        part=f"jig-trial-block-{bare.name}",
        good=good,
        says=f"its pockets and faces are the blank's to {volume:.3f} mm3 and {depth:.4f} mm",
        measured=volume,
        limit=POCKET_VOLUME,
        held=(None, POCKET_VOLUME),
        unit="mm3",
        basis="the planned channel",
        more={"depth": depth},
    )


def _blank(layout: Layout) -> cq.Solid:
    half = layout.blank_half_width
    sawn = sideways(layout.blank_profile, -half, half, "blank")
    return cut(sawn, [tool(layout, step).solid for step in middle_steps(layout)], "cutting the blank")
