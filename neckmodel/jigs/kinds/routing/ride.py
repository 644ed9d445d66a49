"""How a carriage stands on its rails, from the facets of both as built: along two lines, wherever it is. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.geometry.bounds import zero_of
from neckmodel.geometry.types import Floats
from neckmodel.jigs.kinds.routing.rails import Pose2
from neckmodel.meshes import mesh_of, to_manifold

if TYPE_CHECKING:
    from neckmodel.jigs.kinds.routing.rails import SledPlan
    from neckmodel.jigs.kinds.routing.sled import SledPieces

CURVE = 2e-5  # mm, deflection of the rails' mesh, and so of the floor that they give
FACING = 0.9  # least share of a normal along a direction, for a facet to face that way
MEANT = 1.0  # mm by which a facet may miss its planned place and still be recognised
TURNS, SETTLED = 40, 1e-13  # most rounds of the search for the slope at which both feet touch; its end, radians


@dataclass(frozen=True)
class Ride:
    """A carriage on its rails. x, z: (n,) of the rails' top; feet: (m, 2) u, v of the carriage's undersides, v from the
    cutter's tip; axis: u of the cutter; play: to either side; body: the carriage in its own frame; first, middle, last:
    its places at both stops and half way. mm."""

    x: Floats
    z: Floats
    feet: Floats
    axis: float
    play: float
    body: manifold3d.Manifold
    first: Pose2
    middle: Pose2
    last: Pose2

    def places(self, spacing: float) -> list[tuple[float, float, float]]:
        """x, z of the cutter's tip and its lean, from stop to stop."""
        count = max(2, math.ceil((self.last.x - self.first.x) / spacing) + 1)
        poses = [stand(self.x, self.z, self.feet, float(at)) for at in np.linspace(self.first.x, self.last.x, count)]
        return [(pose.x, pose.z, pose.slope) for pose in poses]

    def carriage_at(self, pose: Pose2) -> manifold3d.Manifold:
        """The carriage as a solid at this place."""
        return self.body.rotate((0.0, -math.degrees(pose.slope), 0.0)).translate((pose.x, 0.0, pose.z))


def stand(x: Floats, z: Floats, feet: Floats, at: float) -> Pose2:
    """The carriage set down on the rails, its u = v = 0 at x = at: one foot at each end touches, none sinks in."""
    slope, lift = 0.0, np.zeros(2)
    ends = (feet[feet[:, 0] < 0], feet[feet[:, 0] > 0])
    apart = feet[:, 0].max() - feet[:, 0].min()
    for _ in range(TURNS):
        cosine, sine = math.cos(slope), math.sin(slope)
        # the height at which the feet of each end are on the rails
        over = [
            np.interp(at + f[:, 0] * cosine - f[:, 1] * sine, x, z) - f[:, 0] * sine - f[:, 1] * cosine for f in ends
        ]
        lift = np.array([one.max() for one in over])
        turn = float(lift[1] - lift[0]) / apart
        slope += turn
        if abs(turn) < SETTLED:
            break
    return Pose2(at, float(lift.max()), slope)


def ride_of(plan: SledPlan, pieces: SledPieces) -> Ride:
    """The carriage and rails as measured on the pieces."""
    tops, faces, outer = [], {-1: np.zeros((0, 2)), 1: np.zeros((0, 2))}, 0.0
    for piece in pieces.rails:
        corners, normal = _facets(to_manifold(mesh_of(piece.solid, CURVE), piece.name))
        outer = max(outer, float(np.abs(corners[:, :, 1]).max()))
        planned = np.array([plan.rail.height(float(x)) for x in corners[:, :, 0].ravel()]).reshape(-1, 3)
        near = (np.abs(corners[:, :, 2] - planned) < MEANT).all(axis=1)
        tops.append(corners[(normal[:, 2] > 0.5) & near][:, :, ::2].reshape(-1, 2))
        for way in (-1, 1):
            meets = (way * normal[:, 0] < -FACING) & (corners[:, :, 2].max(axis=1) > planned.max(axis=1) + MEANT)
            beyond = way * (corners[:, :, 0].mean(axis=1) - plan.tip.x) > 0
            faces[way] = np.vstack([faces[way], corners[meets & beyond][:, :, ::2].reshape(-1, 2)])
    top = np.unique(np.round(np.vstack(tops), 9), axis=0)
    x, z = _upper(top)
    body = _own_frame(plan, pieces)
    corners, normal = _facets(body)
    under = (normal[:, 2] < -FACING) & (np.abs(corners[:, :, 2] - plan.down) < MEANT).all(axis=1)
    feet = np.unique(np.round(corners[under][:, :, ::2].reshape(-1, 2), 9), axis=0)
    skirts = (np.abs(normal[:, 1]) > FACING) & (corners[:, :, 2].min(axis=1) < plan.down - MEANT)
    inside = float(np.abs(corners[skirts][:, :, 1]).min())
    hole = body.slice(plan.top - plan.plate / 2).to_polygons()
    ring = min((np.asarray(r) for r in hole), key=lambda r: float(np.ptp(r[:, 0])))
    axis = float(ring[:, 0].min() + ring[:, 0].max()) / 2
    ends = (float(corners[:, :, 0].min()), float(corners[:, :, 0].max()))

    def at_stop(way: int) -> Pose2:
        def free(at: float) -> float:
            """How far the carriage's end stands before the nearest face of the stop, mm."""
            pose = stand(x, z, feet, at)
            away = (faces[way] - [pose.x, pose.z]) @ [math.cos(pose.slope), math.sin(pose.slope)]
            return float((way * away).min() - way * ends[way > 0])

        beyond = plan.tip.x + way * (abs(plan.x_to - plan.x_from) + plan.half_length)
        return stand(x, z, feet, zero_of(free, plan.tip.x, beyond))

    first, last = at_stop(-1), at_stop(1)
    middle = stand(x, z, feet, (first.x + last.x) / 2)
    return Ride(x=x, z=z, feet=feet, axis=axis, play=inside - outer, body=body, first=first, middle=middle, last=last)


def _own_frame(plan: SledPlan, pieces: SledPieces) -> manifold3d.Manifold:
    """The carriage with the cutter's tip at (0, 0, 0), as it was drawn, its plate's top under the router's base."""
    pose = plan.tip.at(0.0)
    placed = to_manifold(mesh_of(pieces.carriage.solid, CURVE), pieces.carriage.name)
    own = placed.translate((-pose.x, 0.0, -pose.z)).rotate((0.0, math.degrees(pose.slope), 0.0))
    return own.translate((0.0, 0.0, plan.top - own.bounding_box()[5]))


def _facets(solid: manifold3d.Manifold) -> tuple[Floats, Floats]:
    """(n, 3, 3) corners and (n, 3) unit normals."""
    mesh = solid.to_mesh64()
    corners = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-300)
    return corners, normal / size


def _upper(points: Floats) -> tuple[Floats, Floats]:
    """The highest z at each x, x rising."""
    order = np.lexsort((-points[:, 1], points[:, 0]))
    x, first = np.unique(np.round(points[order][:, 0], 7), return_index=True)
    return x, points[order][first, 1]
