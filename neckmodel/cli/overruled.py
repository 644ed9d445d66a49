"""Refuses to set or vary a planned value that a measured one replaces, for that would change nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from neckmodel.cli.terminal.out import tell

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.values.keys import Path
    from neckmodel.layout import Layout

OTHER = 0.05  # mm of change, to see whether anything depends on a value


def refuse_overruled(design: Design, keys: Iterable[str], place: str, quiet: bool = False) -> None:
    """Raises DesignError where measured values leave a key's planned value without any effect; prints a remark where
    they leave it some.

    place: where the key was typed, `--set` or `KEY`.
    """
    from neckmodel.design.values.keys import dotted, split
    from neckmodel.errors import DesignError, Problem

    if not design.measured:
        return
    problems = []
    for path in dict.fromkeys(split(key) for key in keys):
        if path[0] == "measured":
            continue
        standing, whole = _standing(design, path)
        if whole:
            does = "set" if place == "--set" else "vary"
            instead = " or ".join(f"measured.{key}" for key, _ in standing)
            says = f"{_words_of(design, path, standing)}: {does} {instead}, or take the measurement out"
            problems.append(Problem(dotted(path), says, place=place))
        elif standing and not quiet:
            tell(f"neckmodel: remark: {dotted(path)} {_words_of(design, path, standing)}")
    if problems:
        raise DesignError(problems, design.source.file)


def _words_of(design: Design, path: Path, standing: list[tuple[str, float]]) -> str:
    from neckmodel.design.values.keys import dotted
    from neckmodel.lengths import with_unit

    unit = design.design.units
    if [key for key, _ in standing] == [dotted(path)]:
        return f"is measured, {with_unit(standing[0][1], unit)}, which stays"
    named = ", ".join(f"{key} = {with_unit(value, unit)}" for key, value in standing)
    return f"leaves alone what is measured, {named}"


def _standing(design: Design, path: Path) -> tuple[list[tuple[str, float]], bool]:
    """The measured values that replace a planned one, and whether nothing is left of it."""
    from neckmodel.design.reading.settings import EITHER
    from neckmodel.design.tables.measured import leaves
    from neckmodel.design.values.keys import dotted, look_up, split

    measured = {split(key): (key, value) for key, value in design.measured or ()}
    for one, other in (*EITHER, *(pair[::-1] for pair in EITHER)):
        said_otherwise = [pair for of, pair in measured.items() if dotted(of[:2]) == other]
        if dotted(path[:2]) == one and said_otherwise:
            return said_otherwise, True
    planned = [at for at, _ in leaves(path, look_up(design.model_dump(by_alias=True), path))]
    found = [measured[at] for at in planned if at in measured]
    if found or path[0] != "channel":
        return found, bool(found) and len(found) == len(planned)
    cut = [measured[at] for at in _cut(design, dotted(path)) if at in measured]
    return cut, bool(cut)


def _cut(design: Design, key: str) -> Iterator[Path]:
    """The planned sizes of steps that a key of [channel] moves, where nothing else of the layout depends on it."""
    from neckmodel.design import changed
    from neckmodel.design.tables.measured import OF_A_STEP
    from neckmodel.design.values.keys import look_up, split
    from neckmodel.errors import DesignError
    from neckmodel.layout import lay_out

    value = look_up(design.model_dump(by_alias=True), split(key))
    if not isinstance(value, float):
        return
    try:
        other = changed(design, {key: f"{value + OTHER} mm"})
        before, after = lay_out(design), lay_out(other)
    except DesignError:  # something does depend on it
        return
    if _derived(before) != _derived(after):
        return
    for one, two in zip(before.planned_steps, after.planned_steps, strict=True):
        for what in OF_A_STEP:
            if getattr(one, what) != getattr(two, what):
                yield ("channel", one.name, what)


def _derived(layout: Layout) -> object:
    """The values of a layout that a reader sees, without planned ones that were measured."""
    from neckmodel.layout.json.layout import layout_json

    def bare(value: object) -> object:
        if isinstance(value, dict):
            return {key: bare(item) for key, item in value.items() if key not in ("planned", "design_sha256")}
        return [bare(item) for item in value] if isinstance(value, list | tuple) else value

    return bare(layout_json(layout))
