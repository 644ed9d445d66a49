"""One value of a design varied from end to end: the walls and the rod's place for each. By sections, no kernel."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from neckmodel.design import Design, changed
from neckmodel.design.design import is_measure
from neckmodel.design.values import fields
from neckmodel.design.values.keys import split
from neckmodel.errors import DesignError, Problem
from neckmodel.layout import lay_out
from neckmodel.layout.channel.walls import SectionWall
from neckmodel.layout.rod.rod import together
from neckmodel.variants.limits import SLACK, Margin
from neckmodel.variants.rods.margins import margins_at, room_of

MOST = 500  # variants in one go
NEAR = 1e-9  # of a step: the error of binary fractions is smaller


@dataclass(frozen=True)
class Variant:
    """The design with one value set, in mm for a length. refused: why it cannot be laid out, else "".

    walls: least wood round each step by section; rod_margin: how far the rod lies inside its room, None without a rod;
    first: the least of all margins, None where the variant is refused. mm.
    """

    value: float
    refused: str = ""
    walls: tuple[SectionWall, ...] = ()
    rod_margin: float | None = None
    first: Margin | None = None

    @property
    def keeps(self) -> bool:
        """Whether it keeps every limit that a layout can judge."""
        return not self.refused and (self.first is None or self.first.value >= -SLACK)


def is_length(key: str) -> bool:
    """Whether a key of the design holds a length. Raises DesignError where it is not a single value of a design."""
    path = split(key)
    if path[0] == "measured" and is_measure(path[1:]):
        return True
    field = fields.field_at(Design, path)
    if field is None or fields.below((Design,), key) or fields.tables_at(Design, path):
        raise DesignError([Problem(key, "is no key of a design that holds one value", place="KEY")], "design")
    return fields.is_length(field)


def values_between(first: float, last: float, step: float) -> tuple[float, ...]:
    """The values from first to last in steps, as far as whole steps reach. Raises ValueError where the step leads away
    from last, or to too many values."""
    if not all(math.isfinite(value) for value in (first, last, step)) or step <= 0:
        raise ValueError("STEP must be more than 0")
    if last < first:
        raise ValueError("TO must not be less than FROM")
    count = math.floor((last - first) / step + NEAR) + 1
    if count > MOST:
        raise ValueError(f"that makes {count} variants; at most {MOST} are laid out in one go")
    return tuple(round(first + k * step, 9) for k in range(count))


def vary_range(design: Design, key: str, values: Iterable[float]) -> tuple[Variant, ...]:
    """The design laid out anew for each value of a key, lengths in mm."""
    length = is_length(key)
    return tuple(_variant(design, key, value, length) for value in values)


def _variant(design: Design, key: str, value: float, length: bool) -> Variant:
    number: object = int(value) if value == int(value) else value
    try:
        layout = lay_out(changed(design, {key: f"{value} mm" if length else number}))
    except DesignError as error:
        problem = error.problems[0]
        return Variant(value, f"{problem.key} {problem.says}")
    rod = together(layout.rods)
    room = None if rod is None else room_of(layout, rod)
    margins = margins_at(layout, room)
    place = [margin.value for margin in margins if margin.kind == "place"]
    return Variant(
        value,
        walls=tuple(wall for wall in layout.walls if math.isfinite(wall.wall)),
        rod_margin=min(place, default=None),
        first=next((m for m in margins if m.kind != "fit" or m.value < -SLACK), None),
    )
