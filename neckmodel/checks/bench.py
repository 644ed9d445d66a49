"""What the checks share: the parts' meshes, the neck prepared for measuring, the tools in the wood. Each is made once,
when first asked for."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import manifold3d
import trimesh

from neckmodel.checks.measure.cutter import ToolInWood, below_glue_plane, in_wood, tool_mesh
from neckmodel.checks.measure.neck import PreparedNeck, prepare_neck, without_channel
from neckmodel.layout.channel.behind import GROOVE
from neckmodel.layout.channel.step import EndKind
from neckmodel.layout.measured.carve import NextCuts, next_cuts
from neckmodel.meshes import divided, from_manifold, less, mesh_of, to_manifold, united

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout import Layout
    from neckmodel.solids.parts import Part, Parts, Tool
    from neckmodel.solids.uncut import Uncut

HARDWARE_LINEAR = 0.02  # mm, of hardware and fretboard: flat or round and small


class Bench:
    """The parts of one design, ready for measuring. Not frozen: it keeps what it has made."""

    def __init__(self, parts: Parts | Uncut) -> None:
        self.parts = parts
        self._meshes: dict[str, trimesh.Trimesh] = {}
        self._tools: dict[str, trimesh.Trimesh] = {}
        self._wall_tools: dict[str, trimesh.Trimesh] = {}
        self._in_wood: dict[str, ToolInWood] = {}

    @property
    def layout(self) -> Layout:
        """The layout that the parts were built from."""
        return self.parts.layout

    @property
    def design(self) -> Design:
        """The design that the parts were built from."""
        return self.parts.layout.design

    @cached_property
    def next_cuts(self) -> NextCuts:
        """The instructions for the next work on a neck of which something was measured."""
        return next_cuts(self.layout)

    @cached_property
    def neck(self) -> PreparedNeck:
        """The carved neck before channel and holes."""
        return prepare_neck(self.parts.carved, self.parts.openings)

    def part(self, name: str) -> Part:
        """A part by its name."""
        return self.parts[name]

    def tool(self, step: str) -> Tool:
        """The solid that cuts this step."""
        return next(tool for tool in self.parts.tools if tool.step == step)

    def tool_mesh(self, step: str) -> trimesh.Trimesh:
        """The mesh of the solid that cuts this step."""
        if step not in self._tools:
            self._tools[step] = tool_mesh(self.tool(step).solid)
        return self._tools[step]

    def wall_tool(self, step: str) -> trimesh.Trimesh:
        """A step's tool as far as the glue plane and the wood's ends, for walls: what it overruns cuts no wood."""
        if step not in self._wall_tools:
            is_open = self.layout.step(step).end_end == EndKind.OPEN
            self._wall_tools[step] = below_glue_plane(
                self.tool_mesh(step), step, self.layout.heel.x_end if is_open else None
            )
            head = self.layout.head
            if head.is_none and self.layout.step(step).end_start == EndKind.OPEN:
                whole = to_manifold(self._wall_tools[step], step).trim_by_plane((1.0, 0.0, 0.0), head.x_far)
                self._wall_tools[step] = from_manifold(whole)
        return self._wall_tools[step]

    def in_wood(self, step: str) -> ToolInWood:
        """The part of a step's tool that lies in the wood."""
        if step not in self._in_wood:
            self._in_wood[step] = in_wood(self.neck, self.tool_mesh(step))
        return self._in_wood[step]

    def mesh(self, name: str) -> trimesh.Trimesh:
        """A part's mesh. The neck's is its carved mesh less the tools' meshes, for meshing the cut neck would take far
        longer."""
        if name not in self._meshes:
            if name in self.wood_names:
                self._meshes[name] = from_manifold(self.wood_parts[name])
            else:
                self._meshes[name] = self._mesh_of_part(name)
        return self._meshes[name]

    @property
    def wood_names(self) -> tuple[str, ...]:
        """The names of the neck and of the parts glued to it."""
        return ("neck", *(region.step for region in self.parts.regions))

    @cached_property
    def wood_parts(self) -> dict[str, manifold3d.Manifold]:
        """The drilled neck, divided along its seams."""
        rooms = [to_manifold(mesh_of(region.solid, HARDWARE_LINEAR), region.step) for region in self.parts.regions]
        found = dict(zip(self.wood_names, divided(self.drilled, tuple(rooms)), strict=True))
        if GROOVE in found:  # the two share the channel's sides: what the boolean leaves there goes
            found[GROOVE] = less(found[GROOVE], (self.channel,))
        if self.parts.fretboard is not None:
            board = to_manifold(self.mesh("fretboard"), "the fretboard")
            found["neck"] = united((found["neck"], board))
        return found

    def _mesh_of_part(self, name: str) -> trimesh.Trimesh:
        if name == "fretboard" and self.parts.fretboard is not None:
            return mesh_of(self.parts.fretboard, HARDWARE_LINEAR)
        return mesh_of(self.parts[name].solid, HARDWARE_LINEAR)

    @cached_property
    def channel(self) -> manifold3d.Manifold:
        """All steps of the channel as one solid."""
        return united(tuple(to_manifold(self.tool_mesh(tool.step), tool.step) for tool in self.parts.tools))

    @cached_property
    def drilled(self) -> manifold3d.Manifold:
        """The neck and the parts glued to it as one, with its channel and every hole."""
        holes = [to_manifold(mesh_of(hole.solid, HARDWARE_LINEAR), hole.step) for hole in self.parts.holes]
        return less(self.cut_wood, tuple(holes))

    @cached_property
    def cut_wood(self) -> manifold3d.Manifold:
        """The neck with its channel (holes for screws and tuners left out)."""
        return without_channel(self.neck, self.channel)
