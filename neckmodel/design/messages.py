"""Turns what pydantic found into problems that a maker can read."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from neckmodel.design import known
from neckmodel.design.facts import Path, step
from neckmodel.design.fields import NO_LENGTH, WRONG, Table, nearest
from neckmodel.design.head import FILE, WIDTHS
from neckmodel.design.renamed import RENAMED
from neckmodel.design.source import Source, as_toml
from neckmodel.errors import Problem

_MANY = 12  # keys listed in a message at most


def problems_of(error: ValidationError, source: Source, root: type[Table]) -> list[Problem]:
    """One problem for each mistake; a short form that stands for several values is named once."""
    found: dict[tuple[str, str], Problem] = {}
    for one in error.errors(include_url=False, include_input=True):
        problem = _problem(one, source, root)
        found.setdefault((problem.key, problem.says), problem)
    misspelt = {problem.attempt for problem in found.values()}
    return [problem for problem in found.values() if not (problem.says == "is missing" and _meant(problem) in misspelt)]


def _meant(problem: Problem) -> str:
    """The advice that a misspelling of this missing key got: then one message is enough."""
    return f'did you mean "{problem.key.rpartition(".")[2]}"?'


def _problem(one: Any, source: Source, root: type[Table]) -> Problem:
    kind, ctx = one["type"], one.get("ctx", {})
    loc = tuple(part for part in one["loc"] if part not in (WIDTHS, FILE))
    path = _stated(loc, source.raw, kind)
    if kind == WRONG:
        allowed = ctx["allowed"]
        if ctx["says"] == NO_LENGTH and len(path) < len(loc):  # a short form: say what else may stand there
            allowed = _described(known.field_at(root, path))
        return source.problem(path, ctx["says"], allowed, ctx["attempt"])
    field = known.field_at(root, loc)
    if kind == "missing":
        return _missing(path, field, source)
    if kind == "extra_forbidden":
        return _unknown(path, known.tables_at(root, loc[:-1]), source, root)
    if kind == "literal_error":
        return _choice(path, one["input"], ctx["expected"], source)
    if kind == "bool_type":
        return source.problem(path, "is neither true nor false", "write true or false, without quotes")
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return source.problem(path, "is not a table", _described(field))
    return source.problem(path, one["msg"], _described(field))


def _stated(loc: tuple[str | int, ...], raw: object, kind: str) -> Path:
    """The path as the maker wrote it: levels that only a short form's expansion has are left out."""
    path: Path = ()
    here = raw
    for index, part in enumerate(loc):
        found = step(here, part)
        if found is not None:
            path, here = (*path, part), found
        elif index == len(loc) - 1 and kind == "missing":
            path = (*path, part)
    return path or tuple(loc[:1])


def _described(field: FieldInfo | None) -> str:
    return f"wanted is: {_lowered(field.description)}" if field is not None and field.description else ""


def _lowered(text: str) -> str:
    return (text[0].lower() + text[1:]).rstrip(".") if not text[:2].isupper() else text.rstrip(".")


def _missing(path: Path, field: FieldInfo | None, source: Source) -> Problem:
    if len(path) == 1:
        return source.problem(path, f"the section [{path[0]}] is missing", "every design has it")
    return source.problem(path, "is missing", _described(field))


def _unknown(path: Path, tables: known.Tables, source: Source, root: type[Table]) -> Problem:
    name = str(path[-1])
    if path in RENAMED:
        return source.problem(path, f"is the old name of {RENAMED[path][-1]}, which is there too", attempt="keep one")
    names = list(known.fields(tables))
    near = nearest(name, names)
    says = "is an unknown section" if len(path) == 1 else "is an unknown key"
    if near is not None:
        return source.problem(path, says, attempt=f'did you mean "{near}"?')
    homes = [section for section in root.model_fields if name in known.fields(known.below((root,), section))]
    if homes:
        return source.problem(path, says, attempt=f"it belongs in [{homes[0]}]")
    listed = ", ".join(sorted(names)[:_MANY] if len(names) > _MANY else names)
    return source.problem(path, says, f"known are {listed}" + (", ..." if len(names) > _MANY else ""))


def _choice(path: Path, value: object, expected: str, source: Source) -> Problem:
    words = [word.strip("'") for word in expected.replace(" or ", ", ").split(", ")]
    near = nearest(value, words) if isinstance(value, str) else None
    allowed = "allowed are " + ", ".join(as_toml(word) for word in words)
    attempt = f'did you mean "{near}"?' if near is not None else ""
    return source.problem(path, "is not one of the choices", allowed, attempt)
