"""Overhangs, bridges, thin walls and narrow slots of shapes whose answers are known in closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from neckmodel.jigs.printing import contact_area, least_features, overhang


def extruded(outline: list[tuple[float, float]], height: float) -> trimesh.Trimesh:
    """An upright prism over a convex polygon, or any polygon that a fan from its first corner fills."""
    n = len(outline)
    low = [(x, y, 0.0) for x, y in outline]
    high = [(x, y, height) for x, y in outline]
    sides = [t for k in range(n) for t in ((k, (k + 1) % n, n + k), ((k + 1) % n, n + (k + 1) % n, n + k))]
    caps = [t for k in range(1, n - 1) for t in ((0, k + 1, k), (n, n + k, n + k + 1))]
    return trimesh.Trimesh(np.array(low + high), np.array(sides + caps), process=False)


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> trimesh.Trimesh:
    made = trimesh.creation.box(bounds=[[x[0], y[0], z[0]], [x[1], y[1], z[1]]])
    return trimesh.Trimesh(made.vertices, made.faces, process=False)


def less(one: trimesh.Trimesh, other: trimesh.Trimesh) -> trimesh.Trimesh:
    return trimesh.boolean.difference([one, other], engine="manifold")


def test_a_cone_upside_down_hangs_by_its_own_angle() -> None:
    """A cone of 20 high whose radius grows by 10 leans by atan(10/20) from the vertical; its chords by a hair less."""
    n, turn = 256, np.linspace(0, 2 * math.pi, 256, endpoint=False)
    rings = [np.c_[r * np.cos(turn), r * np.sin(turn), np.full(n, z)] for r, z in ((10, 0.0), (20, 20.0))]
    points = np.vstack([*rings, [[0, 0, 0.0], [0, 0, 20.0]]])
    k, following = np.arange(n), (np.arange(n) + 1) % n
    faces = np.vstack(
        [
            np.c_[k, following, n + k],
            np.c_[following, n + following, n + k],
            np.c_[following, k, np.full(n, 2 * n)],
            np.c_[n + k, n + following, np.full(n, 2 * n + 1)],
        ]
    )
    found = overhang(trimesh.Trimesh(points, faces, process=False))
    assert found.steepest == pytest.approx(math.degrees(math.atan(0.5)), abs=0.01)
    assert found.bridge == 0


def test_a_level_ceiling_is_a_bridge_as_wide_as_its_narrow_side() -> None:
    gate = less(block((0, 60), (0, 20), (0, 15)), block((20, 32.5), (-1, 21), (-1, 8)))
    found = overhang(gate)
    assert found.steepest == 0
    assert found.bridge == pytest.approx(12.5, abs=0.02)
    assert contact_area(gate) == pytest.approx(60 * 20 - 12.5 * 20)


def test_thin_wall_and_narrow_slot_of_a_comb() -> None:
    """A block with slots of 1.1 and 2.0 that leave a wall of 0.7 between them."""
    comb = less(block((0, 50), (0, 20), (0, 10)), block((10, 11.1), (5, 25), (-1, 11)))
    comb = less(comb, block((11.8, 13.8), (5, 25), (-1, 11)))
    wall, slot = least_features(comb)
    assert wall == pytest.approx(0.7, abs=0.04)
    assert slot == pytest.approx(1.1, abs=0.04)


def test_a_sharp_corner_is_no_thin_wall() -> None:
    """60 degrees, sharper than a dovetail's 75; the disc of 3 mm leaves its tip, and that is a corner."""
    prism = extruded([(0, 0), (40, 0), (20, 40 * math.sqrt(3) / 2)], 10)
    wall, slot = least_features(prism)
    assert min(wall, slot) >= 2.97  # the bisection's step
