"""A neck whose exact solid is not the one that is measured is never exported."""

from __future__ import annotations

from contextlib import nullcontext
from dataclasses import replace
from types import SimpleNamespace

import pytest

import neckmodel
from neckmodel.checks import check, run
from neckmodel.checks.run import assert_same_wood
from neckmodel.errors import MeshError
from neckmodel.presets import path_of
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import cut


def test_a_step_that_was_left_in_the_wood_is_noticed() -> None:
    """The adjuster's pocket of redpoll taken out of the mesh only: some 400 mm3 of 31,000."""
    parts = build(neckmodel.lay_out(neckmodel.read(path_of("redpoll"))))
    steps = [tool.solid for tool in parts.tools if tool.step != "adjuster"]
    wrong = cut(parts.carved, [*steps, *(hole.solid for hole in parts.holes)], chips=0.01)
    changed = tuple(replace(part, solid=wrong) if part.name == "neck" else part for part in parts.parts)
    with pytest.raises(MeshError, match="cutting the neck took"):
        check(replace(parts, parts=changed))


@pytest.mark.parametrize(("more", "right"), [(150.0, True), (220.0, False), (-150.0, True), (-220.0, False)])
def test_how_much_may_differ(monkeypatch: pytest.MonkeyPatch, more: float, right: bool) -> None:
    """60 mm3, 6 for each of ten holes and 2 in a thousand of 31,000: 182. A fifth of the adjuster's pocket is 80."""
    volumes = {"carved": 331_000.0, "neck": 300_000.0 - more, "wood": 331_000.0, "drilled": 300_000.0}
    monkeypatch.setattr(run, "volume", volumes.__getitem__)
    parts = SimpleNamespace(carved="carved", holes=[None] * 10, fretboard=None)

    class Pieces(SimpleNamespace):
        def __getitem__(self, name: str) -> SimpleNamespace:
            return SimpleNamespace(solid=name)

    parts = Pieces(**vars(parts))
    bench = SimpleNamespace(
        parts=parts,
        wood_names=("neck",),
        neck=SimpleNamespace(wood=SimpleNamespace(volume=lambda: volumes["wood"])),
        drilled=SimpleNamespace(volume=lambda: volumes["drilled"]),
        layout=SimpleNamespace(walls=()),
    )
    with nullcontext() if right else pytest.raises(MeshError, match="cutting the neck took"):
        assert_same_wood(bench)  # type: ignore[arg-type]
