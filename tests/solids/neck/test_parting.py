"""A neck parted from the blocks under its heel, for any thickness of board: nothing lost, nothing twice.

Second route: the kernel's mesh of the whole, sliced between the seams by manifold3d; no source outside.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from neck_runs import built, laid_out

from neckmodel.meshes import mesh_of
from neckmodel.meshes.manifold import to_manifold
from neckmodel.solids.assembly import glued_regions, wood_parts
from neckmodel.solids.channel import holes, tools
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.kernel.subtraction import take
from neckmodel.solids.neck.neck import carved_neck

DEEP = {  # presets whose heel is stacked, or made so; the board at which the kernel once lost heel-block-3 is 22
    "wheatear": (),
    "pipit": (),
    "whimbrel": ("heel.depth=52", "body.thickness=70"),
}
MESH = 2e-3  # relative; what the mesh's chords, 0.02 mm inside the skin, take off the thinnest block


@cache
def whole(preset: str):
    """The neck before it is parted, the same for every board; and its mesh."""
    layout = laid_out(preset, *DEEP[preset])
    solid = take(carved_neck(layout), [tool.solid for tool in (*tools(layout), *holes(layout))], "the neck")
    return solid, to_manifold(mesh_of(solid, 0.02))


def between(preset: str, top: float, bottom: float) -> float:
    """Volume of the neck's mesh between two heights, from the middle of the shaft on, mm3."""
    layout, (_, mesh) = laid_out(preset, *DEEP[preset]), whole(preset)
    middle = (layout.back.x_1 + layout.heel.x_swell) / 2
    kept = mesh.trim_by_plane((1.0, 0.0, 0.0), middle).trim_by_plane((0.0, 0.0, -1.0), -top)
    return float(kept.trim_by_plane((0.0, 0.0, 1.0), bottom).volume())


def parted(preset: str, thickness: float) -> None:
    layout = laid_out(preset, *DEEP[preset], f"board.thickness={thickness}")
    parts = {part.name: part.solid for part in wood_parts(whole(preset)[0], glued_regions(layout))}
    blocks = [piece for piece in layout.pieces if piece.name.startswith("heel-block")]
    assert blocks
    for piece in blocks:
        zs = [z for _, z in piece.profile]
        bottom = max(min(zs), -layout.heel.depth)
        assert volume(parts[piece.name]) == pytest.approx(between(preset, max(zs), bottom), rel=MESH), piece.name
    assert sum(map(volume, parts.values())) == pytest.approx(volume(whole(preset)[0]), rel=1e-4)


@pytest.mark.parametrize(("preset", "thickness"), [("wheatear", 22.0), ("wheatear", 33.0), ("wheatear", 26.0)])
def test_a_seam_where_the_kernel_takes_one_side_for_the_other(preset, thickness):
    parted(preset, thickness)


@pytest.mark.parametrize("preset", DEEP)
def test_boards_of_other_thicknesses(preset):
    first = laid_out(preset, *DEEP[preset]).outside.deepest_shaft + 1.0
    for thickness in np.linspace(first, min(first + 12.0, layout_deep(preset) - 4.0), 3):
        parted(preset, round(float(thickness), 2))


def layout_deep(preset: str) -> float:
    return laid_out(preset, *DEEP[preset]).heel.depth


@pytest.mark.sweep
@pytest.mark.parametrize("preset", DEEP)
@pytest.mark.parametrize("share", np.linspace(0.0, 1.0, 41))
def test_boards_of_every_thickness(preset, share):
    first, last = laid_out(preset, *DEEP[preset]).outside.deepest_shaft + 0.5, layout_deep(preset) - 3.5
    parted(preset, round(first + float(share) * (min(last, 38.0) - first), 2))


def test_a_design_with_such_a_board_is_built():
    assert {"heel-block-1", "heel-block-2", "heel-block-3"} < {
        part.name for part in built("wheatear", "board.thickness=22").parts
    }
