"""`[measured]`: lengths measured at the bench, each under the path of the planned one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from neckmodel.design.values.keys import Path, dotted
from neckmodel.design.values.kinds import Kind, Length, Number, Table, wrong
from neckmodel.units import to_mm

SECTIONS = ("nut", "fretboard", "neck", "heel", "head", "rod", "bars", "board")
OF_A_STEP = ("depth", "width", "x_start", "x_end")


@dataclass(frozen=True)
class Measured(Kind):
    """Reads nested tables as pairs of dotted key and length in mm, in the order of the keys.

    is_measure: decides whether a path, without "measured", names a length that can be measured. It is passed in because
    the tables do not know the design.
    """

    is_measure: Callable[[Path], bool]

    def _read(self, value: object, unit: str) -> tuple[tuple[str, float], ...]:
        if not isinstance(value, dict):
            raise wrong("is not a table", "write the measured lengths under [measured]")
        pairs = []
        for path, found in leaves((), value):
            key = dotted(path)
            self._check(path, key)
            try:
                pairs.append((key, to_mm(found, unit)))
            except ValueError as error:
                raise wrong(f"{key} is not a length", f"write {error}") from None
        return tuple(sorted(pairs))

    def _check(self, path: Path, key: str) -> None:
        if path[0] == "channel" and len(path) == 3:
            if path[2] not in OF_A_STEP:
                raise wrong(f"{key} is no measure of a step of the channel", f"known are {', '.join(OF_A_STEP)}")
            return
        if not self.is_measure(path):
            raise wrong(
                f"{key} is no length that a design states",
                f"known are lengths of {', '.join(SECTIONS)}, and channel.<step>.{{{', '.join(OF_A_STEP)}}}",
            )

    def _schema(self) -> dict[str, Any]:
        return {"type": "object"}


def leaves(path: Path, value: object) -> Iterator[tuple[Path, object]]:
    """Every value inside nested tables and lists, with its path."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from leaves((*path, int(key) if key.isascii() and key.isdigit() else key), item)
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from leaves((*path, index), item)
    else:
        yield path, value


class Calibration(Table):
    """`[calibration]`: what was found on finished necks or bare rods."""

    relief_unstrung: Annotated[float, Length(-3, 3)] | None = Field(
        None, description="Relief without strings, the rod slack; with relief_strung."
    )
    relief_strung: Annotated[float, Length(-3, 5)] | None = Field(
        None, description="Relief with strings at pitch, the rod slack."
    )
    weight: Annotated[float, Number(0.1, 1000, "N")] | None = Field(
        None, description="Dead weight put on the middle of the board before it is cut, N; with span and sag."
    )
    span: Annotated[float, Length(50, 1500)] | None = Field(
        None, description="Distance of the board's supports, long enough that shear does not rule the sag."
    )
    sag: Annotated[float, Length(0, 20)] | None = Field(None, description="Sag of the board under that weight.")
    rod_bow_per_turn: Annotated[float, Length(0.1, 50)] | None = Field(
        None, description="Bow of the bare rod for one turn of its adjuster; a compression rod has none."
    )
