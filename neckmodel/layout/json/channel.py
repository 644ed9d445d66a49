"""The channel's steps and the walls round them as plain data for other programs: lengths in mm, areas in mm2."""

from __future__ import annotations

from dataclasses import asdict

from neckmodel.layout.channel.step import Step
from neckmodel.layout.layout import Layout
from neckmodel.layout.measured.numbers import built_of


def channel_json(layout: Layout) -> list[dict[str, object]]:
    """Every step in cutting order."""
    return [_step(layout, step.name) for step in layout.steps]


def _step(layout: Layout, name: str) -> dict[str, object]:
    """One step with its cutting and corners. `width` is the planned or measured width, `width_as_cut` the width that
    comes out along the fence, runout not counted."""
    step, cutting = layout.step(name), layout.cutting(name)
    cut = step.from_face
    return {
        "step": step.name,
        "x_start": step.x_start,
        "x_end": step.x_end,
        "y": step.y,
        "width": step.width,
        "depth_start": cut.depth_start,
        "depth_end": cut.depth_end,
        "depth_middle": cut.depth_middle,
        **_from(step),
        "end_start": step.end_start,
        "end_end": step.end_end,
        "cutter": None if cutting is None else cutting.diameter,
        "lines": None if cutting is None else cutting.lines,
        "passes": None if cutting is None else cutting.passes,
        "pass_depth": None if cutting is None else cutting.pass_depth,
        "corner_area": None if cutting is None else cutting.corners,
        "corners": [] if cutting is None else [asdict(corner) for corner in cutting.corners_at],
        "way": None if cutting is None else cutting.way,
        "stick_out_needed": None if cutting is None else cutting.reach,
        "width_as_cut": None if cutting is None or cutting.diameter is None else cutting.width,
        "as_built": [number.key.rpartition(".")[2] for number in built_of(layout, name)],
    }


def _from(step: Step) -> dict[str, object]:
    """The face that a step is cut from, and z of its floor. Depths count from that face. A bore's floor is its lowest
    line."""
    if step.behind:
        x0, x1 = step.x_start, step.x_end
        return {"from": "back", "floor_start": -step.top_at(x0), "floor_end": -step.top_at(x1), "face": -step.face}
    if step.bored:
        return {"from": "end", "floor_start": -step.depth_start, "floor_end": -step.depth_end}
    return {"from": "front", "floor_start": -step.depth_start, "floor_end": -step.depth_end}


def walls_json(layout: Layout) -> list[dict[str, object]]:
    """The least wood round each step within a section, by the law of the back, and where that is."""
    return [{"step": w.step, "wall": w.wall, "x": w.x} for w in layout.walls]
