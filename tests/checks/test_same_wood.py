"""A neck whose exact solid is not the one that is measured is never exported."""

from __future__ import annotations

from dataclasses import replace

import pytest

import neckmodel
from neckmodel.checks import check
from neckmodel.errors import MeshError
from neckmodel.presets import path_of
from neckmodel.solids import build
from neckmodel.solids.kernel import cut


def test_a_step_that_was_left_in_the_wood_is_noticed() -> None:
    """The adjuster's pocket of redpoll taken out of the mesh only: some 400 mm3 of 31,000."""
    parts = build(neckmodel.lay_out(neckmodel.read(path_of("redpoll"))))
    steps = [tool.solid for tool in parts.tools if tool.step != "adjuster"]
    wrong = cut(parts.carved, [*steps, *(hole.solid for hole in parts.holes)], chips=0.01)
    changed = tuple(replace(part, solid=wrong) if part.name == "neck" else part for part in parts.parts)
    with pytest.raises(MeshError, match="cutting the neck took"):
        check(replace(parts, parts=changed))
