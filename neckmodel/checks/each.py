"""The checks of a rod, made for each of two rods as if it were the only one.

Their findings end in "-1" on the bass side and in "-2" on the treble side.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property, wraps
from typing import TYPE_CHECKING

from neckmodel.checks.bench import Bench
from neckmodel.layout.rod.rod import PARTS

if TYPE_CHECKING:
    import manifold3d
    import trimesh

    from neckmodel.checks.measure.cutter import ToolInWood
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace
    from neckmodel.solids.parts import Part, Tool

    Check = Callable[[Bench], list[Finding]]


class OneRod(Bench):
    """The bench of a neck with two rods as one of them sees it: its own steps, key and parts, under the names that they
    have in a neck with one rod. What was made is shared with the other."""

    def __init__(self, both: Bench, rod: RodPlace) -> None:
        super().__init__(both.parts)
        self._both, self._suffix = both, rod.suffix
        self._layout = both.layout.alone(rod)

    @property
    def layout(self) -> Layout:
        """The layout with this rod alone, and no bars."""
        return self._layout

    @cached_property
    def drilled(self) -> manifold3d.Manifold:
        """The neck with both channels and every hole."""
        return self._both.drilled

    def part(self, name: str) -> Part:
        """A part by its name."""
        return self._both.part(self._full(name))

    def mesh(self, name: str) -> trimesh.Trimesh:
        """A part's mesh."""
        return self._both.mesh(self._full(name))

    def tool(self, step: str) -> Tool:
        """The solid that cuts this step."""
        return self._both.tool(step + self._suffix)

    def tool_mesh(self, step: str) -> trimesh.Trimesh:
        """The mesh of the solid that cuts this step."""
        return self._both.tool_mesh(step + self._suffix)

    def wall_tool(self, step: str) -> trimesh.Trimesh:
        """A step's tool as far as the glue plane and the wood's end."""
        return self._both.wall_tool(step + self._suffix)

    def in_wood(self, step: str) -> ToolInWood:
        """The part of a step's tool that lies in the wood."""
        return self._both.in_wood(step + self._suffix)

    def _full(self, part: str) -> str:
        return part + self._suffix if part in PARTS else part


def each_rod(check: Check) -> Check:
    """A check that knows one rod, made for each of two. Of one rod, and of none, it is the check itself."""

    @wraps(check)
    def of_each(bench: Bench) -> list[Finding]:
        rods = bench.layout.rods
        if len(rods) < 2:
            return check(bench)
        return [_named(finding, rod.suffix) for rod in rods for finding in check(OneRod(bench, rod))]

    return of_each


def _named(finding: Finding, suffix: str) -> Finding:
    part = finding.part + suffix if finding.part in PARTS else finding.part
    return replace(finding, check=finding.check + suffix, part=part)
