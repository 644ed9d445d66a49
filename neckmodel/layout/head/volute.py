"""A volute: the thickening of the back round the head line."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Volute:
    """A thickening of the back round the head line: `height (1 - v v)**2`, v = (x - x_middle)/(length/2). mm."""

    x_middle: float
    length: float
    height: float

    @property
    def x_start(self) -> float:
        """x of its end toward the head, mm."""
        return self.x_middle - self.length / 2

    @property
    def x_end(self) -> float:
        """x of its end toward the body, mm."""
        return self.x_middle + self.length / 2

    def swelling(self, x: float) -> float:
        """How much it adds to the back's depth at x, mm."""
        v = (x - self.x_middle) / (self.length / 2)
        return self.height * (1 - v * v) ** 2 if abs(v) < 1 else 0.0
