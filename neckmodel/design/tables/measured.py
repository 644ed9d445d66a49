"""`[measured]`: lengths measured at the bench, each under the path of the planned one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from neckmodel.design.values.keys import Path, dotted
from neckmodel.design.values.kinds import Kind, Length, Number, Table, nearest, wrong
from neckmodel.units import to_mm

SECTIONS = ("nut", "fretboard", "neck", "heel", "head", "rod", "bars", "board")
OF_A_STEP = ("depth", "width", "x_start", "x_end")


@dataclass(frozen=True)
class Measured(Kind):
    """Reads nested tables as pairs of dotted key and length in mm, in the order of the keys.

    is_measure: decides whether a path, without "measured", names a length that can be measured. names: gives what may
    stand below a path. Both are passed in because the tables do not know the design.
    """

    is_measure: Callable[[Path], bool]
    names: Callable[[Path], Iterable[str]]

    def _read(self, value: object, unit: str) -> tuple[tuple[str, float], ...]:
        if not isinstance(value, dict):
            raise wrong("is not a table", "write the measured lengths under [measured]")
        pairs = []
        for path, found in leaves((), value):
            key = dotted(path)
            self._check(path)
            try:
                pairs.append((key, to_mm(found, unit)))
            except ValueError as error:
                raise wrong("is not a length", f"write {error}", at=path) from None
        return tuple(sorted(pairs))

    def _check(self, path: Path) -> None:
        if self.is_measure(path):
            return
        meant = self._meant(path)
        if path[0] == "channel" and len(path) == 3:
            raise wrong("is no measure of a step of the channel", meant or f"known are {', '.join(OF_A_STEP)}", at=path)
        known = f"known are lengths of {', '.join(SECTIONS)}, and channel.<step>.{{{', '.join(OF_A_STEP)}}}"
        raise wrong("is no length that a design states", meant or known, at=path)

    def _meant(self, path: Path) -> str:
        """The known name that is nearest to the first unknown one of a path; "" where none is near."""
        for depth, part in enumerate(path):
            names = tuple(self.names(path[:depth]))
            if isinstance(part, str) and names and part not in names:
                near = nearest(part, names)
                return "" if near is None else f'did you mean "{near}"?'
        return ""

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
