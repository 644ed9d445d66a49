"""The solids of a neck beside a string that starts later: their edges in plan, their volume, the peg's hole, both
hands; and the finding on the peg."""

from __future__ import annotations

import math

import numpy as np
import pytest
from later_samples import SHORT, built, checked, laid_out

from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.fretboard import volume_of
from neckmodel.solids.kernel.gate import probe, volume

PLACES = (20.0, 100.0, 150.0, 158.0, 162.0, 166.0, 170.0, 300.0)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_neck_and_fretboard_end_at_the_same_edges(hand: str) -> None:
    """Just inside each edge is wood, just outside is none, at the glue plane; on a left-handed neck mirrored."""
    layout, parts = laid_out(f"design.hand={hand}"), built(f"design.hand={hand}")
    side = -1.0 if hand == "left" else 1.0
    for name, z in (("neck", -0.3), ("fretboard", 0.3)):
        there = probe(parts[name].solid)
        for x in PLACES:
            for y, out in ((layout.fretboard.bass(x), -1.0), (layout.fretboard.treble(x), 1.0)):
                assert there(x, side * (y - 0.1 * out), z), (name, x, y)
                assert not there(x, side * (y + 0.1 * out), z), (name, x, y)


def test_the_fretboard_s_volume_is_the_sum_of_its_sections() -> None:
    """Flat, 6 thick, less 22 slots 0.6 wide and 2.3 deep; widths summed by themselves."""
    board, solid = laid_out().fretboard, built()["fretboard"].solid
    xs = np.linspace(0.0, board.x_end, 200_001)
    widths = np.array([board.treble(x) - board.bass(x) for x in ((xs[:-1] + xs[1:]) / 2).tolist()])
    whole = 6.0 * float(np.sum(widths * np.diff(xs)))
    slots = sum(0.6 * 2.3 * (board.treble(slot.x) - board.bass(slot.x)) for slot in board.slots)
    assert volume(solid) == pytest.approx(whole - slots, rel=2e-5)
    assert volume(solid) == pytest.approx(volume_of(board, board.slots), rel=2e-5)


def test_the_back_follows_its_law_through_the_step() -> None:
    """Sections of the carved neck, against the layout's superellipse: within the spline's 0.01 mm, the mesh's 0.01,
    and what a cut through a mesh is off where the side runs aslant."""
    layout = laid_out()
    whole = to_manifold(mesh_of(built().carved, 0.01))
    for x in (80.0, 150.0, 161.0, 200.0):
        turned = whole.transform(np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]]))
        (ring,) = turned.slice(x).to_polygons()
        found = np.asarray(ring)
        below = found[found[:, 1] < -0.5]
        law = layout.back.section(x).points(20001)
        off = max(float(np.hypot(*(law - point).T).min()) for point in below)
        assert off < 0.04


def test_the_peg_s_hole_is_in_the_neck_and_not_in_the_blank() -> None:
    layout, parts = laid_out(), built()
    peg = layout.peg
    assert peg is not None
    neck, blank = probe(parts["neck"].solid), probe(parts["blank"].solid)
    x, y, z = peg.end
    assert not neck(x, y - 0.5, z)
    assert neck(x, y + 0.5, z)
    assert not neck(x, y - 1.0, z + 3.8)
    assert neck(x, y - 1.0, z - 4.2)
    assert blank(x, y - 0.5, z)


def test_the_check_measures_the_peg_s_walls() -> None:
    """To the glue plane 7.5 - 4; to the run from the hole's flat end."""
    layout = laid_out()
    found = next(f for f in checked().findings if f.check == "wall/peg")
    assert layout.peg is not None
    assert found.more["glue_plane"] == pytest.approx(3.5)
    assert found.more["run"] == pytest.approx(-3.05 - layout.peg.end[1], abs=0.02)
    assert found.measured == pytest.approx(min(found.more.values()), abs=1e-3)
    assert found.verdict in ("pass", "warn")
    skin = layout.back.section(160.0).points(20001)
    apart = np.hypot(np.maximum(skin[:, 0] - layout.peg.end[1], 0.0), np.maximum(abs(skin[:, 1] + 7.5) - 4.0, 0.0))
    far = np.hypot(skin[:, 0] - layout.peg.mouth[1], skin[:, 1] + 7.5) > 12.0
    by_section = float(apart[far & (skin[:, 1] < -0.3)].min())
    assert found.more["skin"] <= by_section + 1e-3


def test_a_peg_that_is_too_deep_fails_and_its_remedy_mends() -> None:
    over = (f"{SHORT}.peg.depth=15",)
    found = next(f for f in checked(*over).findings if f.check == "wall/peg")
    assert found.verdict == "fail"
    assert "the rod run" in found.says or "the run" in found.says
    assert found.remedy is not None
    assert found.remedy.set
    assert "peg" in found.remedy.says
    assert "=" not in found.remedy.says
    mended = (*over, *(f"{key}={value}" for key, value in found.remedy.set.items()))
    again = next(f for f in checked(*mended).findings if f.check == "wall/peg")
    assert again.verdict == "pass"


def test_without_a_peg_the_check_names_its_key() -> None:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.wood.peg import check_peg
    from neckmodel.solids.uncut import Uncut

    bare = laid_out(f'{SHORT}={{note="G4", diameter=0.25, mass_per_length=0.3975, starts_at_fret=5}}')
    (found,) = check_peg(Bench(Uncut(bare, built())))
    assert (found.check, found.verdict) == ("wall/peg", "skipped")
    assert "strings.each[0].peg" in found.says
    assert math.isfinite(bare.fretboard.bass(0.0))
