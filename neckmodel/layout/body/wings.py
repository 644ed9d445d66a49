"""The body's wings: parts of the body glued to the sides of a neck that runs through. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.contour import Contour
from neckmodel.layout.body.place import BodyPlace
from neckmodel.layout.heel.heel import Heel
from neckmodel.layout.sides import SIGNS
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from neckmodel.design import Design

LEAST_STRIP = 1.0  # mm of the body's outline beyond a wing's inner side; less is nothing to glue
STRAY = 0.01  # mm that a drawn outline may lie beyond a wing's stock; as far as its curves are followed


@dataclass(frozen=True)
class BodyWing:
    """One wing. Its stock is the box from x_start to x_end, y_from to y_to and z_low to z_top. The finished wing is the
    stock inside `outline`, or all of the stock where no body is drawn. seam: y of the face glued to the neck or to the
    wing inside it. glued: length of the side it is glued to."""

    name: str
    x_start: float
    x_end: float
    y_from: float
    y_to: float
    z_low: float
    z_top: float
    seam: float
    glued: float

    @property
    def stock(self) -> tuple[float, float, float]:
        """Length, width and thickness of its stock, mm."""
        return self.x_end - self.x_start, self.y_to - self.y_from, self.z_top - self.z_low

    @property
    def beyond(self) -> float:
        """Length of its inner side that reaches past the part it is glued to, mm."""
        return max(self.x_end - self.x_start - self.glued, 0.0)


def body_wings(design: Design, heel: Heel, body: BodyPlace) -> tuple[BodyWing, ...]:
    """The wings from the neck's sides outward, numbered as the design lists them; () for any other kind of heel.

    Raises DesignError where the stock does not hold the drawn outline.
    """
    if heel.kind != "through" or heel.half_width is None or not design.heel.wings:
        return ()
    outline = None if body.outline is None else Contour(tuple((float(x), float(y), 0.0) for x, y in body.outline))
    found = []
    for side, sign in SIGNS:
        near, inner = heel.half_width, (heel.x_joint, heel.x_end)
        listed = [(k, wing) for k, wing in enumerate(design.heel.wings) if wing.side == side]
        for n, (k, wing) in enumerate(listed):
            x0 = heel.x_joint + wing.from_joint
            x1, far = x0 + wing.length, near + wing.width
            if outline is not None:
                _refuse(design, outline, k, sign, (near, far), (x0, x1), last=n == len(listed) - 1)
            y_from, y_to = sorted((sign * near, sign * far))
            glued = max(min(x1, inner[1]) - max(x0, inner[0]), 0.0)
            name = f"body-wing-{k + 1}"
            found.append(
                BodyWing(
                    name=name,
                    x_start=x0,
                    x_end=x1,
                    y_from=y_from,
                    y_to=y_to,
                    z_low=-heel.depth,
                    z_top=design.body.top,
                    seam=sign * near,
                    glued=glued,
                )
            )
            near, inner = far, (x0, x1)
    return tuple(sorted(found, key=lambda wing: wing.name))


def _refuse(
    design: Design,
    outline: Contour,
    k: int,
    sign: int,
    across: tuple[float, float],
    along: tuple[float, float],
    *,
    last: bool,
) -> None:
    """Raises DesignError for a wing whose stock does not hold the outline, or which the outline leaves in no piece or
    in several."""
    key, (near, far), (x0, x1) = f"heel.wings.{k}", across, along
    reach = float((sign * outline.points[:, 1]).max())
    if reach < near + LEAST_STRIP:
        raise design.problem(key, f"lies beyond the body's outline, which reaches {reach:.2f} mm", "", "leave it out")
    for y in (near, *([far] if far < reach else [])):
        runs = len(outline.crossings(sign * y, axis=1))
        if runs != 2:
            says = f"would be of several pieces: the body's outline crosses the line {y:.2f} mm beside the centre line"
            raise design.problem(key, f"{says} {runs} times", "", "a width at which it crosses it twice")
    if last and far < reach - STRAY:
        least = f"at least {no_less(reach - near)}"
        raise design.problem(f"{key}.width", f"does not reach the body's outline, {reach:.2f} mm out", least)
    low, high = _extent(outline, sign, near)
    if x0 > low + STRAY:
        most = f"at most {no_more(design.heel.wings[k].from_joint + low - x0)}"
        raise design.problem(f"{key}.from_joint", "begins behind the body's outline there", most)
    if x1 < high - STRAY:
        raise design.problem(f"{key}.length", "ends before the body's outline there", f"at least {no_less(high - x0)}")


def _extent(outline: Contour, sign: int, near: float) -> tuple[float, float]:
    """Least and largest x of the outline from `near` outward on one side."""
    out = outline.points[sign * outline.points[:, 1] >= near, 0].tolist()
    xs = [*out, *outline.crossings(sign * near, axis=1)]
    return min(xs), max(xs)
