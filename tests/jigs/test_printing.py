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


# --- bridges, by two routes -------------------------------------------------------------------------------------------
LOW, HIGH = 8.0, 15.0  # mm: of every ceiling here, and of the top over it
CEILINGS = {
    # name: (rooms taken out of a block 60 x 40, whether what is over them is held, its span)
    "gate": ([((20, 29), (-1, 41))], True, 9.0),
    "gate along": ([((-1, 61), (12, 21))], True, 9.0),
    "cave": ([((20, 50), (14, 22))], True, 8.0),
    "alcove": ([((20, 29), (-1, 30))], True, 9.0),
    "ledge": ([((50, 61), (-1, 41))], False, 0.0),
    "narrow ledge": ([((59, 61), (-1, 41))], False, 0.0),
    "corner": ([((50, 61), (30, 41))], False, 0.0),
    "table": ([((-1, 20), (-1, 41)), ((40, 61), (-1, 41))], False, 0.0),
}


def undercut(rooms: list[tuple[tuple[float, float], tuple[float, float]]]) -> trimesh.Trimesh:
    body = block((0, 60), (0, 40), (0, HIGH))
    for x, y in rooms:
        body = less(body, block(x, y, (-1, LOW)))
    return body


def beside(p: np.ndarray, q: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Positive to the left of the lines from p to q."""
    return (q[:, 0] - p[:, 0]) * (at[..., 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (at[..., 0] - p[:, 0])


def rests(corners: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Whether each of (n, 3) points lies in the material: an odd number of facets over it. Plain numpy."""
    a, b, c = (corners[:, k, :2] for k in range(3))
    inside = np.zeros((len(at), len(corners)), dtype=int)
    sides = [beside(p, q, at[:, None, :2]) for p, q in ((a, b), (b, c), (c, a))]
    over = np.all([s > 0 for s in sides], axis=0) | np.all([s < 0 for s in sides], axis=0)
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    upright = np.abs(normal[:, 2]) < 1e-9
    safe = np.where(upright, 1.0, normal[:, 2])
    lift = corners[:, 0, 2] - (np.einsum("nij,ij->ni", at[:, None, :2] - corners[None, :, 0, :2], normal[:, :2])) / safe
    inside[over & ~upright & (lift > at[:, 2:])] = 1
    return inside.sum(axis=1) % 2 == 1


def held_along(corners: np.ndarray, turn: float) -> bool:
    """Whether from every place under the ceilings, both ways at an angle, material stands below where they end."""
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    ceiling = (normal[:, 2] < -1e-9) & (corners[:, :, 2] > 1.0).all(axis=1)
    rng = np.random.default_rng(5)
    weights = rng.dirichlet((1, 1, 1), size=(int(ceiling.sum()), 40))
    places = np.einsum("fnk,fkd->fnd", weights, corners[ceiling]).reshape(-1, 3)
    hair = np.array([0.0, 0.0, 0.01])
    ahead = np.array([math.cos(turn), math.sin(turn), 0.0])
    for way in (ahead, -ahead):
        left = places.copy()
        going = np.ones(len(left), dtype=bool)
        ended = np.zeros(len(left), dtype=bool)
        for _ in range(700):  # in steps of 0.1 mm until there is wood below (held) or none above (in the air)
            left[going] += 0.1 * way
            under, over = rests(corners, left - hair), rests(corners, left + hair)
            ended |= going & under
            going &= ~under & over
            if not going.any():
                break
        if not ended.all():
            return False
    return True


@pytest.mark.parametrize("name", CEILINGS)
def test_only_a_ceiling_held_at_both_ends_is_a_bridge(name: str) -> None:
    """Second route: from places under the ceiling along x and along y, each facet asked for by itself."""
    rooms, held, span = CEILINGS[name]
    body = undercut(rooms)
    corners = np.asarray(body.vertices)[np.asarray(body.faces)]
    assert any(held_along(corners, turn) for turn in (0.0, math.pi / 2)) == held
    found = overhang(body)
    assert found.steepest == (0.0 if held else 90.0)
    assert found.bridge == pytest.approx(span, abs=0.02)
