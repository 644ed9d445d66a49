"""From a design file to a `Design`, or to one error that names every mistake in it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from pydantic import ValidationError

from neckmodel.design.defaults.defaults import DEFAULTS, INSTEAD, OPTIONAL
from neckmodel.design.defaults.fill import fill
from neckmodel.design.design import Design
from neckmodel.design.file.renamed import modernise
from neckmodel.design.file.source import Source
from neckmodel.design.file.text import check, readable, text_of
from neckmodel.design.file.toml import printable
from neckmodel.design.reading.measured import misplaced, over_plan
from neckmodel.design.reading.messages import MOST_SHOWN, problems_of
from neckmodel.design.reading.settings import Overrides, apply
from neckmodel.design.reading.unit import explained
from neckmodel.design.rules.board import BOARD_RULES
from neckmodel.design.rules.calibration import CALIBRATION_RULES
from neckmodel.design.rules.pairs import unlike
from neckmodel.design.rules.registry import RULES
from neckmodel.design.rules.rod import ROD_RULES
from neckmodel.design.rules.rule import broken
from neckmodel.design.rules.soundhole import SOUNDHOLE_RULES
from neckmodel.design.rules.woods import WOOD_RULES
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Facts, split
from neckmodel.design.values.kinds import Table
from neckmodel.errors import DesignError, Problem
from neckmodel.presets import path_of

MISSPELT = 'did you mean "reinforcement"?'  # then one message is enough
_DEEPEST = 12  # levels of tables and lists; the deepest design needs 5


def read(path: str | FilePath, overrides: Overrides = ()) -> Design:
    """Reads and validates a design file, or a preset by its name where there is no such file.

    overrides: `KEY=VALUE` texts, or a mapping of dotted key to value; they replace what the file states.
    Raises DesignError with every problem found: the file cannot be read, is not TOML, or a value in it is wrong.
    """
    file = FilePath(path)
    if not readable(file):
        file = path_of(str(path)) or file
    return read_text(text_of(file), str(file), overrides)


def read_text(text: str, name: str = "design", overrides: Overrides = ()) -> Design:
    """Like `read`, for the text of a design file; `name` stands for the file in messages."""
    return _design(_source(text, printable(name), overrides))


def changed(design: Design, overrides: Overrides) -> Design:
    """The design with values set over it, on top of what was stated and set before. Raises DesignError as `read`."""
    return _design(apply(design.source, overrides))


def _design(source: Source) -> Design:
    """The planned design, with the measured values put over it."""
    plan = _read(source)
    if plan.measured is None:
        return plan
    wrong = list(misplaced(source))
    if wrong:
        raise DesignError(_listed(wrong), source.file)
    design = _read(over_plan(source))
    design._plan = plan
    return design


def _read(source: Source) -> Design:
    """The design of a source, complete and valid."""
    design, problems = _tried(source)
    problems = explained(source, problems, lambda raw: _tried(replace(source, raw=dict(raw)))[1])
    if problems:
        raise DesignError(_listed(problems), source.file)
    design._source = source
    return design


def _tried(source: Source) -> tuple[Design, list[Problem]]:
    """The design, or its sections without mistakes, and all problems."""
    filled = fill(source.raw, DEFAULTS, OPTIONAL, INSTEAD)
    context = {"unit": Facts(source.raw).unit}
    problems: list[Problem] = []
    try:
        design = Design.model_validate(filled, context=context)
        sound = frozenset(Design.model_fields)
    except ValidationError as error:
        problems = problems_of(error, source, Design)
        design, sound = _sound_part(filled, context, error)
    if not any(problem.attempt == MISSPELT for problem in problems):
        refused = [source.problem(split(b.key), b.says, b.allowed, b.attempt) for b in unlike(Facts(source.raw))]
        problems = [*_beside(problems, refused), *refused]
    every = (*RULES, *BOARD_RULES, *ROD_RULES, *SOUNDHOLE_RULES, *WOOD_RULES, *CALIBRATION_RULES)
    problems += broken(every, design, sound, source)
    return design, problems


def _beside(problems: list[Problem], refused: list[Problem]) -> list[Problem]:
    """The problems, less those that only say which keys an item of a list lacks, or has too many, where the item is
    refused as of the wrong kind."""
    items = {of for problem in refused if (of := problem.key.rpartition(".")[0]).endswith("]")}
    keys = ("is missing", "is an unknown key")
    return [p for p in problems if p.says not in keys or p.key.rpartition(".")[0] not in items]


def _source(text: str, name: str, overrides: Overrides) -> Source:
    check(text, name)
    try:
        raw = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise DesignError([_syntax_problem(text, error)], name) from None
    _refuse_depth(raw, name)
    old_names = modernise(raw)
    source = apply(Source(name, text, raw, old_names=old_names), overrides)
    _refuse_depth(source.raw, name)
    return source


def _refuse_depth(raw: object, name: str) -> None:
    if _depth(raw) > _DEEPEST:
        raise DesignError([Problem("tables and lists", f"are nested more than {_DEEPEST} deep")], name)


def _sound_part(
    filled: Mapping[str, object], context: Mapping[str, object], error: ValidationError
) -> tuple[Design, frozenset[str]]:
    """The design with only those sections that have no mistake, so that the rules between sections can be tried on
    them."""
    wrong = {str(one["loc"][0]) for one in error.errors(include_url=False, include_input=False)}
    sections: dict[str, object] = {}
    for name in Design.model_fields:
        if name in wrong:
            continue
        value = filled.get(name)
        tables = fields.below((Design,), name)
        sections[name] = _table(tables[0], value, context) if tables and value is not None else value
    return Design.model_construct(None, **sections), frozenset(sections)


def _table(table: type[Table], value: object, context: Mapping[str, object]) -> Table:
    return table.model_validate(value, context=dict(context))


def _listed(problems: list[Problem]) -> list[Problem]:
    """The problems in the order of their lines, those without a line last. A long list is cut off and its rest
    counted."""
    ordered = sorted(problems, key=_in_line_order)
    more = len(ordered) - MOST_SHOWN
    return ordered if more <= 0 else [*ordered[:MOST_SHOWN], Problem("the file", f"has {more} more mistakes")]


def _in_line_order(problem: Problem) -> tuple[bool, int]:
    return problem.line is None, problem.line or 0


def _depth(raw: object) -> int:
    """Levels of tables and lists, counted as far as the limit."""
    here: Sequence[object] = [raw]
    for depth in range(_DEEPEST + 2):
        below: list[object] = []
        for value in here:
            if isinstance(value, dict):
                below.extend(value.values())
            elif isinstance(value, list):
                below.extend(value)
        if not below:
            return depth
        here = below
    return _DEEPEST + 2


_HINTS = (
    ("Cannot overwrite a value", "the key stands twice in this section; keep one of the two"),
    ("Cannot declare", "the section stands twice; keep one of the two"),
    ("Cannot mutate immutable", "a table written in { } is complete; add the key inside it"),
    ("Expected '=' after a key", "a line is key = value, a [section] or a # remark; names hold no spaces"),
    ("Expected newline or end of document", "a decimal sign is a point, and a length with its unit stands in quotes"),
    ("Invalid value", "write a number (0.5, not .5), a text in quotes, true or false, or a list in [ ]"),
    ("Unclosed array", "a list needs its ] and a comma between its items"),
    ("Unclosed inline table", "a table in { } needs its } and a comma between its keys; it stands on one line"),
    ("Unterminated string", "a text needs a quote at both ends"),
    ("Expected ']'", "a section's name stands in [ ] on a line of its own"),
    ("Illegal character", "a text in quotes stands on one line, and needs a quote at its end"),
    ("Invalid statement", "a line is key = value, a [section] or a # remark"),
    ("Unescaped '\\'", "write two \\ for one, or put the text in single quotes"),
)


def _syntax_problem(text: str, error: Exception) -> Problem:
    if isinstance(error, RecursionError):
        return Problem("tables and lists", "are nested too deep to read")
    message = str(error)
    rows = text.split("\n")
    line = len(rows)
    if "(at line " in message:
        line = int(message.rpartition("(at line ")[2].partition(",")[0])
    says = message.partition(" (at ")[0]
    if not isinstance(error, tomllib.TOMLDecodeError):
        says = "a number in it has too many digits"
    hint = next((hint for start, hint in _HINTS if says.startswith(start)), "")
    row = rows[min(line, len(rows)) - 1].strip()
    if says == "Invalid value" and row.startswith("["):
        hint = "is the list above closed with a ]?"
    return Problem(f"the line {printable(row[:60])}", f"is not TOML: {says}", None, "", hint, line)
