"""stock/seams: whether a seam of a board of strips leaves a sliver on a wall of the channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.findings import PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.step import plain
from neckmodel.layout.wood.slivers import Beside, moved_clear, seams_beside
from neckmodel.lengths import listed

if TYPE_CHECKING:
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout

CHECK = "stock/seams"


def check_seams(layout: Layout) -> list[Finding]:
    """The thinnest wood that stays of a strip on a wall of the channel; () for a board in one piece, or a neck without
    a channel. Seams inside a step are told: two halves with the rod over their joint are usual."""
    found = seams_beside(layout.strips, layout.steps)
    if not found:
        return []
    least = layout.design.limits.stock_seams
    slivers = [one for one in found if one.is_sliver(least - SLACK)]
    outside = [one for one in found if not one.inside]
    worst = min(slivers or outside, key=lambda one: one.gap, default=None)
    said = [_told(layout, slivers, found)]
    if worst is not None and not slivers:
        said.insert(0, f"the seam nearest to a wall lies {max(worst.gap, 0.0):.2f} mm beside the {plain(worst.step)}")
    at = None
    if worst is not None:
        step = layout.step(worst.step)
        at = place(layout, (step.x_start, worst.y, -step.depth_start / 2))
    return [
        limit_finding(
            check=CHECK,
            part="blank",
            verdict=WARN if slivers else PASS,
            says="; ".join(part for part in said if part) or "no seam lies beside a wall of the channel",
            measured=None if worst is None else round(max(worst.gap, 0.0), 4),
            error=0.0,  # by the layout: the solids know no seams
            limit=least if slivers or (worst is not None and worst.gap >= least) else None,
            basis=COMMON,
            at=at,
            remedy=_moved(layout, slivers, least) if slivers else None,
        )
    ]


def _told(layout: Layout, slivers: list[Beside], found: tuple[Beside, ...]) -> str:
    says = []
    for step in dict.fromkeys(one.step for one in slivers):
        thin = [one for one in slivers if one.step == step]
        at = listed(f"y {layout.across(one.y):.2f} mm" for one in thin)
        walls = "each wall" if len(thin) > 1 else "a wall"
        says.append(
            f"{min(one.gap for one in thin):.2f} mm of a strip stays on {walls} of the {plain(step)}, by the "
            f"seam{'s' if len(thin) > 1 else ''} at {at}"
        )
    says = [f"{'; '.join(says)}: so thin a strip breaks off under the cutter"] if says else []
    within: dict[str, list[str]] = {}
    for one in found:
        if one.inside:
            within.setdefault(f"{layout.across(one.y):.2f} mm", []).append(plain(one.step))
    says += [f"the seam at y {y} runs inside the {listed(steps)}" for y, steps in within.items()]
    return "; ".join(says)


def _moved(layout: Layout, slivers: list[Beside], least: float) -> Remedy | None:
    """Strips of other widths, so that each seam with a sliver lies on the wall, or far enough from it. Their sum stays,
    and so do the other seams."""
    strips, design = layout.strips, layout.design
    places = {one.seam: one.y for one in slivers}

    def by(outward: bool, aim: Aim) -> Remedy | None:
        widths = {k: strip.width for k, strip in enumerate(strips)}
        for seam, y in places.items():
            side = 1 if y >= 0 else -1
            to = moved_clear(y, layout.steps, least, side if outward else -side)
            move = aim.up(f"board.strips.{seam}.width", abs(to - y)) if outward else round(abs(to - y) + 1e-9, 2)
            shift = move if to > y else -move
            widths[seam] += shift
            widths[seam + 1] -= shift
        changed = {f"board.strips.{k}.width": w for k, w in widths.items() if abs(w - strips[k].width) > SLACK}
        return possible(design, {key: round(width, 4) for key, width in changed.items()}, _clear)

    return graded(design, lambda aim: any_of(by(True, aim), by(False, aim)))


def _clear(new: Layout) -> bool:
    least = new.design.limits.stock_seams
    return not any(one.is_sliver(least - SLACK) for one in seams_beside(new.strips, new.steps))
