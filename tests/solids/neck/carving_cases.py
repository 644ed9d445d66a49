"""Necks to carve in the tests: laws, stock and the volumes a numeric integral gives, none of it by the kernel."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import cached_property

import cadquery as cq
import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.paths import PlanPath, Step
from neckmodel.geometry.types import Point
from neckmodel.solids.kernel.shapes import sideways
from neckmodel.solids.neck.carving import Room
from neckmodel.solids.neck.skin import BackLaw, SlabEnd, at
from neckmodel.solids.neck.superellipse import curve

Array = NDArray[np.float64]
UNDER = 2.0  # the stock under the finished back, mm
BESIDE = 1.0  # the stock beside the finished neck, mm


def smoothstep(u: Array) -> Array:
    u = np.clip(u, 0, 1)
    return u * u * (3 - 2 * u)


@dataclass(frozen=True)
class Neck:
    """A neck with a stepped head (angle 0) or an angled one, and a heel; mm and degrees."""

    name: str
    scale: float = 640.0
    joint_fret: int = 16
    x_end: float = 468.41
    half_nut: float = 21.3
    half_end: float = 27.0
    depth_nut: float = 14.5
    depth_12: float = 16.5
    exponent: float | tuple[float, float] = 2.0  # all along, or at frets 1 and 12
    lean: float = 0.0
    heel_depth: float = 19.0
    heel_half: float | None = None  # None: as the fretboard
    heel_swell: float = 30.0
    x_head: float = -6.0
    head_swell: float = 30.0
    drop: float = 10.0
    angle: float = 0.0
    head_thickness: float = 14.0
    near: float = 23.0  # half widths
    far: float = 29.0
    head_length: float = 170.0

    # --- plan ---------------------------------------------------------------------------------------------------
    def fret(self, n: int) -> float:
        return float(self.scale * (1 - 2 ** (-n / 12)))

    @property
    def x_joint(self) -> float:
        return self.fret(self.joint_fret)

    @property
    def x_from(self) -> float:
        return -self.head_swell

    @property
    def x_far(self) -> float:
        return self.x_head - self.head_length * math.cos(math.radians(self.angle))

    def fretboard(self, x: Array | float) -> Array:
        return np.asarray(self.half_nut + (self.half_end - self.half_nut) * np.asarray(x) / self.x_end)

    @property
    def narrow(self) -> bool:
        return self.near < float(self.fretboard(self.x_head))

    def half_width(self, x: Array) -> Array:
        along = self.fretboard(x)
        start, end = self.x_head, self.x_from
        at_head = self.near + (self.far - self.near) * (start - end) / (start - self.x_far)
        if self.narrow:  # a straight taper, with a corner at either end
            out = np.where(
                x < start,
                self.fretboard(start) + (at_head - self.fretboard(start)) * (start - x) / (start - end),
                along,
            )
        else:  # a cove, level with the sides at either end
            u, length = np.clip((start - x) / (start - end), 0, 1), start - end
            slope_neck = -(self.half_end - self.half_nut) / self.x_end * length
            slope_head = (self.far - self.near) / (start - self.x_far) * length
            cove = (2 * u**3 - 3 * u**2 + 1) * self.fretboard(start) + (u**3 - 2 * u**2 + u) * slope_neck
            cove = cove + (3 * u**2 - 2 * u**3) * at_head + (u**3 - u**2) * slope_head
            out = np.where(x < start, cove, along)
        if self.heel_half is not None:
            swelling = smoothstep((x - self.x_joint + self.heel_swell) / self.heel_swell)
            out = out + (self.heel_half - self.fretboard(self.x_joint)) * swelling
        return out

    def end_path(self, x_skin: float, half: float, x_far: float, half_far: float, radius: float) -> PlanPath:
        """From (x_skin, -/+half) round the far end with rounded corners, head or heel by the sign of x_far - x_skin."""
        sign = 1.0 if x_far > x_skin else -1.0
        corner, back = np.array([x_far, half_far]), np.array([x_skin - x_far, half - half_far])
        back = back / np.linalg.norm(back)
        down = np.array([0.0, -1.0])
        opening = math.acos(float(back @ down))
        reach = radius / math.tan(opening / 2)
        middle = (back + down) / np.linalg.norm(back + down)
        a, b = corner + back * reach, corner + down * reach
        through = corner + middle * radius * (1 / math.sin(opening / 2) - 1)

        def to(point: Array, side: float) -> Point:
            return float(point[0]), float(side * point[1])

        steps = (
            Step(to(a, sign)),
            Step(to(b, sign), to(through, sign)),
            Step(to(b, -sign)),
            Step(to(a, -sign), to(through, -sign)),
            Step((x_skin, -sign * half)),
        )
        return PlanPath((x_skin, sign * half), steps)

    # --- laws ---------------------------------------------------------------------------------------------------
    def depth(self, x: Array) -> Array:
        return np.asarray(self.depth_nut + (self.depth_12 - self.depth_nut) * x / (self.scale / 2))

    def exponents(self, x: Array) -> Array:
        first, last = self.exponent if isinstance(self.exponent, tuple) else (self.exponent, self.exponent)
        a, b = self.fret(1), self.fret(12)
        return first + (last - first) * smoothstep((x - a) / (b - a))

    @cached_property
    def law(self) -> BackLaw:
        half_head = float(self.half_width(np.array([self.x_from]))[0])
        half_heel = float(self.half_width(np.array([self.x_joint]))[0])
        half_end = self.heel_half if self.heel_half is not None else self.half_end
        bottom = self.bottom
        under_head = -float(np.interp(self.x_from, *zip(*bottom, strict=True))) + 1.0
        lowest = -min(z for _, z in bottom) + 9.0
        head_path = self.end_path(self.x_from, half_head, self.x_far, self.far, 8.0)
        breaks = {self.x_from, self.x_head, 0.0, self.x_joint - self.heel_swell, self.x_joint}
        if isinstance(self.exponent, tuple):
            breaks |= {self.fret(1), self.fret(12)}
        return BackLaw(
            breaks=tuple(sorted(breaks)),
            half_width=self.half_width,
            depth=self.depth,
            exponent=self.exponents,
            apex=lambda _: -self.lean,
            head=SlabEnd(under_head, under_head + 6, lowest, head_path),
            heel=SlabEnd(
                self.heel_depth + 1,
                self.heel_depth + 7,
                self.heel_depth + 10,
                self.end_path(self.x_joint, half_heel, self.x_end, half_end, 6.0),
            ),
            head_blend=lambda x: 1 - smoothstep((x - self.x_from) / self.head_swell),
            heel_blend=lambda x: smoothstep((x - self.x_joint + self.heel_swell) / self.heel_swell),
            corners=(self.x_head,) if self.narrow else (),
        )

    # --- stock ---------------------------------------------------------------------------------------------------
    @property
    def top(self) -> list[Point]:
        """(x, z) of the stock's upper side, ascending x."""
        left, right = self.x_far - 3, self.x_end + 3
        if self.angle:
            return [(left, (left - self.x_head) * math.tan(math.radians(self.angle))), (self.x_head, 0.0), (right, 0.0)]
        return [(left, -self.drop), (self.x_head, -self.drop), (self.x_head, 0.0), (right, 0.0)]

    @property
    def bottom(self) -> list[Point]:
        """(x, z) of the stock's lower side, ascending x: a line under the back, met by ramps and the head's back."""
        left, right = self.x_far - 3, self.x_end + 3
        slope = -(self.depth_12 - self.depth_nut) / (self.scale / 2)
        level = -self.depth_nut - UNDER
        if self.angle:
            fall = math.tan(math.radians(self.angle))
            back = -self.x_head * fall - self.head_thickness / math.cos(math.radians(self.angle))
            meet = (level - back) / (fall - slope)
            head = [(left, back + fall * left), (meet, level + slope * meet)]
        else:
            low = -self.drop - self.head_thickness
            ramp = 5.0 + level + slope * 5.0 - low  # 45 degrees up from the head's back, to x = 5
            head = [(left, low), (5.0, low), (ramp, level + slope * ramp)]
        x = self.x_joint - self.heel_swell - 8
        z = level + slope * x
        return [*head, (x, z), (x + self.heel_depth + z, -self.heel_depth), (right, -self.heel_depth)]

    def stock(self) -> cq.Solid:
        half = self.widest + BESIDE
        return sideways([*self.top, *reversed(self.bottom)], -half, half)

    @property
    def widest(self) -> float:
        x = np.linspace(self.x_from, self.x_joint, 500)
        return max(float(self.half_width(x).max()), self.far, self.half_end, self.heel_half or 0)

    @property
    def room(self) -> Room:
        return Room(self.x_far - 12, self.x_end + 12, self.widest + 20, min(z for _, z in self.bottom) - 40)

    # --- volumes by integration ----------------------------------------------------------------------------------
    def waste_volume(self) -> float:
        x, weight = gauss([*self.law.breaks])
        skin, plan = float(section_areas(self.law, x) @ weight), float(2 * at(self.law.half_width, x) @ weight)
        head, heel = abs(self.law.head.path.area()), abs(self.law.heel.path.area())
        room = self.room
        box = (room.x_to - room.x_from) * 2 * room.half_width * (room.over - room.bottom)
        return box - skin - head * self.law.head.slab - heel * self.law.heel.slab - (plan + head + heel) * room.over

    def volume(self) -> float:
        marks = {x for x, _ in self.top} | {x for x, _ in self.bottom}
        inner = sorted({*self.law.breaks, *(m for m in marks if self.law.x_from < m < self.law.x_to)})
        pieces = [float(a + (b - a) * k / 8) for a, b in itertools.pairwise(inner) for k in range(8)]
        x, weight = gauss([*pieces, inner[-1]])
        total = float(section_areas(self.law, x, self.level(self.bottom, x), self.level(self.top, x)) @ weight)
        for end in (self.law.head, self.law.heel):
            outline = end.path.polyline(per_arc=801)
            outline = outline[outline[:, 1] >= 0]
            outline = outline[np.argsort(outline[:, 0], kind="stable")]
            least, most = outline[0, 0], outline[-1, 0]
            stops = sorted({least, most, *(m for m in marks if least < m < most)})
            stops = sorted({*stops, *(float(v) for v in outline[:: len(outline) // 60, 0])})
            x, weight = gauss(stops, 12)
            half = np.interp(x, outline[:, 0], outline[:, 1])
            total += float(2 * half * (self.level(self.top, x) - self.level(self.bottom, x)) @ weight)
        return total

    @staticmethod
    def level(line: list[Point], x: Array) -> Array:
        return np.asarray(np.interp(x, [p[0] for p in line], [p[1] for p in line]))


def gauss(stops: list[float], count: int = 24) -> tuple[Array, Array]:
    """Gauss points and weights on every stretch between the stops."""
    points, weights = np.polynomial.legendre.leggauss(count)
    a, b = np.array(stops[:-1]), np.array(stops[1:])
    x = (a + b)[:, None] / 2 + (b - a)[:, None] / 2 * points
    return x.ravel(), ((b - a)[:, None] / 2 * weights).ravel()


def section_areas(law: BackLaw, x: Array, low: Array | None = None, high: Array | None = None) -> Array:
    """(n,) areas of the sections' splines between two levels (None: all of it), by the trapezoid rule."""
    poles = law.sections(x)
    t = np.linspace(0, 1, 1201)
    points = np.einsum("tj,nsjk->nstk", curve(np.eye(poles.shape[2]), t), poles)
    z = points[..., 1]
    if low is not None and high is not None:
        z = np.clip(z, low[:, None, None], high[:, None, None])
    bass, treble = points[:, 0, :, 0], points[:, 1, :, 0]
    return np.asarray(np.trapezoid(bass, z[:, 0], axis=1) - np.trapezoid(treble, z[:, 1], axis=1))


NECKS = (
    Neck("redpoll"),
    Neck("angled head", angle=12.0, head_length=150.0),
    Neck("head narrower than the neck", near=19.0, far=17.0),
    Neck("heel wider than the fretboard", heel_half=30.5),
    Neck("heel narrower than the fretboard", heel_half=21.0),
    Neck("leaning", lean=2.0, exponent=1.8),
    Neck("V", exponent=1.35),
    Neck("U", exponent=3.5),
    Neck("fullest", exponent=4.0),
    Neck("V to U", exponent=(1.35, 3.5)),
    Neck("D to C, leaning, angled", exponent=(2.6, 2.0), lean=1.5, angle=10.0, head_length=190.0),
    Neck("narrow and thin", scale=300.0, joint_fret=12, x_end=200.0, half_nut=12.5, half_end=14.0, depth_nut=8.0,
         depth_12=9.0, heel_depth=14.0, heel_swell=20.0, drop=6.0, head_thickness=10.0, near=14.0, far=18.0,
         head_length=90.0),
    Neck("wide and long", scale=900.0, joint_fret=20, x_end=680.0, half_nut=38.0, half_end=47.5, depth_nut=24.0,
         depth_12=26.0, exponent=2.3, heel_depth=30.0, near=42.0, far=50.0, drop=12.0, head_thickness=18.0),
    Neck("wide and long V, angled", scale=900.0, joint_fret=20, x_end=680.0, half_nut=38.0, half_end=47.5,
         depth_nut=24.0, depth_12=26.0, exponent=1.3, heel_depth=45.0, near=30.0, far=50.0, angle=17.0),
)  # fmt: skip
