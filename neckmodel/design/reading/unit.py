"""Finds numbers without a unit that make sense only in the unit that the file is not in, and reports them in one
message."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from neckmodel.design.defaults.fill import copied
from neckmodel.design.file.source import Source
from neckmodel.design.file.toml import as_toml
from neckmodel.design.reading.lengths import Stated, lengths
from neckmodel.design.reading.settings import put
from neckmodel.design.values.keys import Facts, dotted
from neckmodel.errors import Problem
from neckmodel.units import to_mm

NAMED = {"mm": "mm", "in": "inches"}
_SHOWN = 4  # keys named in one message
_FULL = 1e-9

# mm: the least and the largest size ever seen of keys whose bounds allow either unit; sign ignored, zero excepted
# (common practice, no source)
SENSE: dict[str, tuple[float, float]] = {
    "action.at_nut": (0.1, 2.5),
    "fretboard.past_last_fret": (1.0, 60.0),
    "heel.screws.*.from_end": (4.0, 150.0),
    "heel.screws.*.y": (2.0, 60.0),
    "heel.neck_pocket_depth": (2.0, 110.0),
    "head.tuners.*.x": (6.0, 400.0),
    "head.tuners.*.y": (2.0, 120.0),
    "head.slots.from": (6.0, 400.0),
    "head.slots.to": (12.0, 400.0),
    "body.cutouts.*.from": (60.0, 1500.0),
    "body.cutouts.*.to": (60.0, 1500.0),
    "body.under_pocket": (3.0, 180.0),
    "body.soundhole.from": (60.0, 1500.0),
    "body.soundhole.to": (60.0, 1500.0),
    "body.braces.*.from": (60.0, 1500.0),
    "body.braces.*.to": (60.0, 1500.0),
    "rod.block.length": (1.5, 80.0),
    "rod.anchor.length": (1.5, 80.0),
    "rod_place.from_nut": (0.3, 90.0),
    "rod_place.past_joint": (0.8, 100.0),
    "rod_place.wood_beyond_rod": (0.8, 60.0),
    "channel.deeper_by": (0.01, 1.5),
    "channel.adjuster_clearance": (0.1, 4.0),
    "channel.end_clearance": (0.1, 12.0),
    "channel.key_clearance": (0.08, 4.0),
    "bars.from_nut": (0.3, 90.0),
    "bars.offset": (1.5, 40.0),
    "rod.offset": (2.0, 40.0),
    "workshop.cutters.*.stick_out": (5.0, 200.0),
    "workshop.kerf": (0.3, 8.0),
}


def explained(
    source: Source, problems: list[Problem], retry: Callable[[Mapping[str, object]], list[Problem]]
) -> list[Problem]:
    """The problems of a design, with one message for all numbers in the wrong unit in place of the problems they cause.

    retry: computes the problems of other raw tables.
    """
    unit = Facts(source.raw).unit
    other = "in" if unit == "mm" else "mm"
    bare = [one for one in lengths(source.raw) if one.bare]
    odd = [one for one in bare if _fits(one, other, source) and not _fits(one, unit, source)]
    if not odd:
        return problems
    if len(odd) > sum(_fits(one, unit, source) and not _fits(one, other, source) for one in bare):
        raw = copied(source.raw)
        put(raw, ("design", "units"), other)
        return [_of_the_file(source, odd, len(bare), unit, other), *retry(raw)]
    raw = copied(source.raw)
    for one in odd:
        put(raw, one.path, f"{one.value} {other}")
    own = [problem for problem in problems if problem.key == dotted(odd[0].path)]
    told = own if len(odd) == 1 and own else [_of_some(source, odd, unit, other)]
    return [*told, *retry(raw)]


def _fits(one: Stated, unit: str, source: Source) -> bool:
    """Whether a bare number makes sense in a unit. What was set from outside is held to its bounds alone."""
    assert isinstance(one.value, int | float)
    if one.kind is None or one.value == 0:
        return True
    if not one.kind.holds(one.value, unit):
        return False
    sense = SENSE.get(".".join("*" if isinstance(part, int) else part for part in one.path))
    if sense is None or sense[0] - _FULL <= abs(to_mm(one.value, unit)) <= sense[1] + _FULL:
        return True
    return source.is_set(one.path)  # last, for it has to read the file's lines


def _of_the_file(source: Source, odd: list[Stated], count: int, unit: str, other: str) -> Problem:
    share = f"{len(odd)} of the file's {count} bare lengths" if len(odd) < count else "all bare lengths of the file"
    says = f"does not go with the sizes: {share} make sense only in {NAMED[other]}, such as {_listed(source, odd[:2])}"
    first = as_toml(odd[0].value)
    attempt = f'write units = "{other}", or give each length its unit: "{first} {other}"'
    return source.problem(("design", "units"), says, "", attempt, unit)


def _of_some(source: Source, odd: list[Stated], unit: str, other: str) -> Problem:
    first, rest = odd[0], odd[1:]
    says = f"makes sense only in {NAMED[other]}, and the file is in {NAMED[unit]}"
    if rest:
        says += f"; so {'does' if len(rest) == 1 else 'do'} {_listed(source, rest)}"
    written = as_toml(first.value)
    attempt = f'write "{written} {other}"{" and so on" if rest else ""}'
    if first.kind is not None and first.kind.holds(first.value, unit):  # type: ignore[arg-type]
        attempt += f', or "{written} {unit}" if that is meant'
    return source.problem(first.path, says, "", attempt)


def _listed(source: Source, some: list[Stated]) -> str:
    said = [f"{dotted(one.path)} = {as_toml(one.value)}{_at(source, one)}" for one in some[:_SHOWN]]
    if len(some) > _SHOWN:
        said.append(f"{len(some) - _SHOWN} more")
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _at(source: Source, one: Stated) -> str:
    line = None if source.is_set(one.path) else source.line(one.path)
    return "" if line is None else f" (line {line})"
