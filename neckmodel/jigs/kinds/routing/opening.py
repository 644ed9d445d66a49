"""Places and sizes of a router template: opening, stop bars, pins and windows. Plain numbers, no kernel."""

from __future__ import annotations

from dataclasses import dataclass, replace

from neckmodel.geometry.types import Point
from neckmodel.layout import Layout
from neckmodel.layout.channel.corners import run_on
from neckmodel.layout.channel.cutters import LEAST_TEMPLATE
from neckmodel.layout.channel.step import End, Step
from neckmodel.layout.workshop.router import RouterSetting, leaves_at_heel, leaves_wood, router_settings
from neckmodel.limits import BASE_THICKNESS, TEMPLATE_THICKNESS

# mm; common practice, no source
FENCE, FENCE_DEPTH = 8.0, 10.0  # of a fence: across, and down the blank's side
BAR, BAR_HEIGHT, PEG = 22.0, 8.0, 8.0  # of a stop bar: along x on the plate, over it; its square pegs
BAR_BEYOND = 8.0  # by which a bar reaches past the plate's end, to have room for its label
PIN = 4.0  # diameter of the pins, and of the drill for them
PIN_EDGE = 1.5  # of waste wood kept round a pin's hole
PAST = 0.5  # by which a cut that leaves the wood clears it beyond the cutter's radius
APART = 3.0  # least material between two openings
WINDOW, WINDOW_ACROSS = 8.0, 9.0  # along and across; the tips at both ends stand at the station


@dataclass(frozen=True)
class Template:
    """The template of one step. base: radius of the router's base. cut: the cutter's sweep in plan, its corners as the
    cutter leaves them. opening: the same, larger by the bush's offset. stops: x of the bars' faces. thickness: of the
    plate. pins, windows: their places. mm."""

    setting: RouterSetting
    base: float
    cut: Step
    opening: Step
    stops: Point
    thickness: float
    half: float
    pins: tuple[Point, ...]
    windows: tuple[tuple[str, float], ...]

    @property
    def name(self) -> str:
        """The piece's name: that of its step."""
        return self.setting.step.name

    @property
    def x_range(self) -> Point:
        """x of the plate's two ends, mm."""
        return self.stops[0] - BAR, self.stops[1] + BAR


def templates(layout: Layout) -> tuple[Template, ...]:
    """One template for each step with a level floor, in the order of the steps; () unless the workshop states the
    router's base and a guide bush."""
    return tuple(
        _template(layout, setting, setting.base, setting.larger)
        for setting in router_settings(layout)
        if setting.step.is_level and setting.base is not None and setting.larger is not None
    )


def _template(layout: Layout, setting: RouterSetting, base: float, larger: float) -> Template:
    shop, step = layout.design.workshop, setting.step
    radius = setting.cutter / 2
    x0, x1 = cut_range(layout, step, radius)
    cut_plan = replace(
        step,
        x_start=x0,
        x_end=x1,
        corner_start=min(max(step.corner_start, radius), step.width / 2),
        corner_end=min(max(step.corner_end, radius), step.width / 2),
    )
    opening = replace(
        cut_plan,
        x_start=x0 - larger,
        x_end=x1 + larger,
        width=step.width + 2 * larger,
        corner_start=cut_plan.corner_start + larger,
        corner_end=cut_plan.corner_end + larger,
    )
    fit = shop.printer.fit_per_side
    reach = base - radius
    thickness = setting.cutting.stick_out - step.depth - BASE_THICKNESS
    plan = Template(
        setting=setting,
        base=base,
        cut=cut_plan,
        opening=opening,
        stops=(x0 - reach - fit, x1 + reach + fit),
        thickness=max(min(TEMPLATE_THICKNESS, int(10 * thickness) / 10), LEAST_TEMPLATE),
        half=layout.blank_half_width + fit,
        pins=(),
        windows=(),
    )
    near = abs(opening.y) + opening.width / 2 + APART + PIN / 2
    pins = waste_pins(layout, (plan.x_range[0] + BAR + PEG, plan.x_range[1] - BAR - PEG), near)
    return replace(plan, pins=pins, windows=_windows(layout, plan, pins))


def cut_range(layout: Layout, step: Step, radius: float) -> Point:
    """x from which and to which a cutter of this radius may cut a step, mm. Where the step leaves the wood the cut
    clears it. Where it opens into another step the cut runs on into that, as far as the cutter's radius and that step
    allow, so that no corner is left."""

    def past(leaves: bool, free: float) -> float:
        return radius + PAST if leaves else min(radius, free)

    start = past(leaves_wood(layout, step), run_on(step, End.START, layout.steps))
    return step.x_start - start, step.x_end + past(leaves_at_heel(layout, step), run_on(step, End.END, layout.steps))


def waste_pins(layout: Layout, x: Point, near: float) -> tuple[Point, ...]:
    """Two places for pins, one at each side, in wood that comes off later; () where there are none.

    x: the stretch that the plate covers; near: least distance of a pin's middle from the centre line, mm.
    """
    inset, outer = PIN / 2 + PIN_EDGE, layout.blank_half_width - PIN / 2 - PIN_EDGE
    best: tuple[float, float, float] | None = None
    at = max(layout.head.x_top + inset, x[0])
    while at <= min(layout.heel.x_joint, x[1]):
        inner = max(layout.outside.reach(at) + inset, near)
        room = outer - inner
        if room >= 0 and (best is None or room > best[0] + 1e-9):
            best = (room, at, (inner + outer) / 2)
        at += 1.0
    return () if best is None else ((best[1], -best[2]), (best[1], best[2]))


def _windows(layout: Layout, plan: Template, pins: tuple[Point, ...]) -> tuple[tuple[str, float], ...]:
    """Stations to be seen through the bass side of the plate: both ends of this step first, then the nut and the
    joint."""
    step = plan.setting.step
    wanted = (
        (f"{step.name} starts", step.x_start),
        (f"{step.name} ends", step.x_end),
        ("nut", 0.0),
        ("joint", layout.heel.x_joint),
    )
    x0, x1 = plan.x_range
    low, high = window_range(layout, plan)
    if high - low < WINDOW_ACROSS / 2:
        return ()
    found: list[tuple[str, float]] = []
    for name, x in wanted:
        clear = x0 + BAR + 2 * WINDOW <= x <= x1 - BAR - 2 * WINDOW
        clear = clear and all(abs(x - other) >= WINDOW + APART for _, other in found)
        clear = clear and all(
            abs(x - p) >= WINDOW / 2 + PIN / 2 + APART or abs(y) - PIN / 2 >= high + APART for p, y in pins
        )
        if clear:
            found.append((name, x))
    return tuple(found)


def window_range(layout: Layout, plan: Template) -> Point:
    """Distances from the centre line between which the windows reach, on the bass side, mm."""
    low = max(plan.opening.width / 2 - plan.opening.y, 0.0) + APART
    return low, min(low + WINDOW_ACROSS, layout.blank_half_width - APART)


def peg_places(plan: Template) -> Point:
    """x of the middles of both stop bars, mm."""
    return plan.stops[0] - BAR / 2, plan.stops[1] + BAR / 2


def peg_sides(plan: Template) -> Point:
    """y of the pegs of a stop bar, mm."""
    return -(plan.half - PEG), plan.half - PEG
