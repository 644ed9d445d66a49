"""The channel as cut: measured sizes in place of planned ones. Lengths mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.design.values.kinds import nearest
from neckmodel.geometry.curve import Curve
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step

if TYPE_CHECKING:
    from neckmodel.design import Design

Sizes = Mapping[str, float]  # of one step: "depth" (at the deepest), "width", "x_start", "x_end"
PRINTED = 6e-6  # mm; a size this near to the plan counts as planned, for layout.json rounds it
FAR_ACROSS, FAR_ALONG = 10.0, 60.0  # mm off the plan; a larger difference is taken for a typing error
LEAST_LEFT = 0.5  # mm, of a step's width, depth and length
SECTION = "channel."


def as_cut(design: Design, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with their measured sizes. A step that runs into a moved end follows that end.

    Raises DesignError where the channel has no such step, or where a measured size is too far off the plan to be
    believed.
    """
    found = _measured(design, steps)
    if not found:
        return steps
    cut = [_cut(step, found.get(step.name, {})) for step in steps]
    return tuple(_following(design, after, found, steps, cut) for after in cut)


def _measured(design: Design, steps: tuple[Step, ...]) -> dict[str, dict[str, float]]:
    """The measured sizes of each step, by its name."""
    found: dict[str, dict[str, float]] = {}
    by_name = {step.name: step for step in steps}
    for key, value in design.measured or ():
        if not key.startswith(SECTION):
            continue
        name, what = key.removeprefix(SECTION).rsplit(".", 1)
        if name not in by_name:
            near, known = nearest(name, by_name), "its steps are " + ", ".join(by_name)
            meant = "" if near is None else f'did you mean "{near}"?'
            raise design.problem(f"measured.{key}", f"the channel has no step {name!r}", known, meant)
        planned, far = size_of(by_name[name], what), FAR_ALONG if what.startswith("x_") else FAR_ACROSS
        if abs(value - planned) > far:
            says = f"is {abs(value - planned):.2f} mm off the {planned:.2f} mm that follow from the design"
            raise design.problem(f"measured.{key}", says, attempt="measure it again")
        if abs(value - planned) > PRINTED:
            found.setdefault(name, {})[what] = value
    for name, sizes in found.items():
        after = _cut(by_name[name], sizes)
        if min(after.width, after.from_face.depth, after.x_end - after.x_start) < LEAST_LEFT:
            raise design.problem(f"measured.{SECTION}{name}.{next(iter(sizes))}", "leaves nothing of this step")
    return found


def size_of(step: Step, what: str) -> float:
    """A size of a step as it is measured at the bench, mm; its depth from the face that it is cut from."""
    return float(getattr(step.from_face if what == "depth" else step, what))


def _cut(step: Step, sizes: Sizes) -> Step:
    """The step with its measured sizes. A sloping or curved floor keeps its shape and moves up or down as a whole."""
    x_start, x_end = sizes.get("x_start", step.x_start), sizes.get("x_end", step.x_end)
    if (x_start, x_end) != (step.x_start, step.x_end):
        floor = step.floor.between(x_start, x_end)
        ceiling = None if step.ceiling is None else step.ceiling.between(x_start, x_end)
        step = _floored(replace(step, x_start=x_start, x_end=x_end, ceiling=ceiling), floor)
    if "depth" in sizes and step.behind and step.ceiling is not None:
        # its floor lies higher or lower; the rod's underside, where the strip begins, follows the rod
        step = replace(step, ceiling=step.ceiling.raised(sizes["depth"] - step.from_face.depth))
    elif "depth" in sizes:
        step = _floored(step, step.floor.raised(step.depth - sizes["depth"]))
    if "width" in sizes:
        width = sizes["width"]
        start, end = (_corner(radius, step.width, width) for radius in (step.corner_start, step.corner_end))
        step = replace(step, width=width, corner_start=start, corner_end=end)
    return step


def _floored(step: Step, floor: Curve) -> Step:
    """The step with its floor at another depth, its shape kept."""
    return replace(step, depth_start=floor.start, depth_end=floor.end, depth_middle=floor.middle)


def _corner(radius: float, was: float, width: float) -> float:
    """The corner's radius after the width changed: a full round stays a full round, others stay as cut."""
    return width / 2 if radius > 0 and abs(2 * radius - was) < LEAST_DIFFERENCE else min(radius, width / 2)


def _following(
    design: Design, step: Step, found: Mapping[str, Sizes], planned: tuple[Step, ...], cut: list[Step]
) -> Step:
    """The step after the ends it opened into were measured: its open end moves to where that end was found, unless it
    was measured itself."""
    own = {key for key, _ in design.measured or ()}
    sizes: dict[str, float] = {}
    before = next(one for one in planned if one.name == step.name)
    for mine, theirs, kind in (("x_start", "x_end", before.end_start), ("x_end", "x_start", before.end_end)):
        if kind != EndKind.OPEN or f"{SECTION}{step.name}.{mine}" in own:
            continue
        for other, moved in zip(planned, cut, strict=True):
            met = other.y == before.y and abs(getattr(other, theirs) - getattr(before, mine)) < LEAST_DIFFERENCE
            if other is not before and met and theirs in found.get(other.name, {}):
                sizes[mine] = getattr(moved, theirs)
    return _cut(step, sizes)
