"""How a part lies in a STEP file for CAM: which face is up, and where z = 0 is. Parts are turned and moved, never
mirrored."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.errors import ExportError

Bounds = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Setup:
    """turned: half a turn about the x axis. zero: the height that becomes z = 0 ("glue plane", "top" or "bed")."""

    name: str
    turned: bool
    zero: str
    says: str


SETUPS: dict[str, Setup] = {
    setup.name: setup
    for setup in (
        Setup("glue-up", False, "glue plane", "glue plane up, z = 0 at the glue plane, as the design is laid out"),
        Setup("glue-up-bed", False, "bed", "glue plane up, z = 0 at the machine bed: the part's lowest point"),
        Setup("back-up", True, "top", "back up, turned over about x, z = 0 at the part's highest point"),
        Setup("back-up-bed", True, "bed", "back up, turned over about x, z = 0 at the machine bed: the lowest point"),
    )
}


@dataclass(frozen=True)
class Placement:
    """A setup for one part: (x, y, z) of the layout goes to (x, s y, s z + lift), s = -1 if turned, else 1."""

    setup: Setup
    lift: float

    @property
    def sign(self) -> int:
        """-1 if the part is turned over, else 1."""
        return -1 if self.setup.turned else 1

    def bounds(self, box: Bounds) -> Bounds:
        """The box (xmin, ymin, zmin, xmax, ymax, zmax), mm, of the part as placed."""
        x0, y0, z0, x1, y1, z1 = box
        if self.setup.turned:
            y0, y1, z0, z1 = -y1, -y0, -z1, -z0
        return x0, y0, z0 + self.lift, x1, y1, z1 + self.lift

    def point(self, place: tuple[float, float, float]) -> tuple[float, float, float]:
        """A point of the layout as placed, mm."""
        x, y, z = place
        return x, self.sign * y, self.sign * z + self.lift

    @property
    def origin(self) -> str:
        """Where x, y and z are 0, in words."""
        where = {"glue plane": "the glue plane", "top": "the part's highest point", "bed": "the part's lowest point"}
        glue = "" if self.setup.zero == "glue plane" else f"; the glue plane is at z = {self.lift:.4f} mm"
        return f"x = 0 at the nut's fretboard side, y = 0 on the centre line, z = 0 at {where[self.setup.zero]}{glue}"

    @property
    def up(self) -> str:
        """Which face is up, in words."""
        if self.setup.turned:
            return "the back looks up; turned over about x, so y has changed sign"
        return "the glue plane's side looks up, y as in the layout"


LAYOUT = Placement(SETUPS["glue-up"], 0.0)
"""The frame of the layout itself."""


def setup_named(name: str) -> Setup:
    """Raises ExportError for a name that is not a setup's."""
    if name not in SETUPS:
        raise ExportError(f"setup {name!r} is not known; it is one of: {', '.join(SETUPS)}")
    return SETUPS[name]


def placement(setup: Setup, box: Bounds) -> Placement:
    """Where the setup puts a part with this box, mm.

    The lift is a whole number of 0.0001 mm, so that heights stay round numbers; the part's lowest or highest point lies
    at 0 within half of that.
    """
    if setup.zero == "glue plane":
        return Placement(setup, 0.0)
    low, high = (-box[5], -box[2]) if setup.turned else (box[2], box[5])
    lift = -low if setup.zero == "bed" else -high
    return Placement(setup, round(lift, 4) + 0.0)
