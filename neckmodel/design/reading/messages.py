"""Turns what pydantic reports into problems that a maker can read."""

from __future__ import annotations

from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from neckmodel.design.defaults.defaults import DEFAULTS
from neckmodel.design.file.renamed import RENAMED
from neckmodel.design.file.source import Source
from neckmodel.design.file.toml import as_toml
from neckmodel.design.reading.defaults import follows_from, is_default, reason
from neckmodel.design.tables.head import FILE, POST, SIDE, WIDTHS
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Facts, Path, dotted, step
from neckmodel.design.values.kinds import NO_LENGTH, WRONG, Mm, Table, nearest
from neckmodel.errors import Problem
from neckmodel.units import from_mm

MOST_SHOWN = 100  # problems shown, the first ones by line
_MANY = 12  # keys listed in a message at most
_EITHER = (Union, UnionType, Annotated)
_TAGS = (WIDTHS, FILE, POST, SIDE)


def problems_of(error: ValidationError, source: Source, root: type[Table]) -> list[Problem]:
    """One problem for each mistake. A short form that stands for several values is named once."""
    found: dict[tuple[str, str], Problem] = {}
    errors = [(one, tuple(p for p in one["loc"] if p not in _TAGS)) for one in error.errors(include_url=False)]
    stated = {loc for one, loc in errors if not _by_default(one, loc, source)}
    plain = _unshown(errors, source)
    for one, loc in errors:
        if loc not in stated and any(at[: len(of)] == of for of in follows_from(loc, source.raw) for at in stated):
            continue  # it comes right once the value it follows from is right
        counted = Problem(dotted(loc), "is unknown", line=source.line(loc)) if loc in plain else None
        problem = counted or _problem(one, loc, source, root)
        found.setdefault((problem.key, problem.says), problem)
    misspelt = {problem.attempt for problem in found.values()}
    return [problem for problem in found.values() if not (problem.says == "is missing" and _meant(problem) in misspelt)]


def _unshown(errors: list[tuple[Any, Path]], source: Source) -> set[Path]:
    """Of very many unknown keys, those that are only counted; looking up what each was meant to be takes long."""
    unknown = [loc for one, loc in errors if one["type"] == "extra_forbidden"]
    if len(unknown) <= MOST_SHOWN:
        return set()
    return set(sorted(unknown, key=lambda loc: source.line(loc) or 0)[MOST_SHOWN:])


def _meant(problem: Problem) -> str:
    """The advice that was given about a misspelling of this missing key. It spares a second message."""
    return f'did you mean "{problem.key.rpartition(".")[2]}"?'


def _by_default(one: Any, loc: Path, source: Source) -> bool:
    return one["type"] == WRONG and is_default(loc, source.raw)


def _problem(one: Any, loc: Path, source: Source, root: type[Table]) -> Problem:
    kind, ctx = one["type"], one.get("ctx", {})
    if _by_default(one, loc, source):
        says, attempt = ctx["says"], reason(loc, source.raw) or ctx["attempt"]
        return source.problem(loc, says, ctx["allowed"], attempt, _shown(one["input"], source))
    path = _stated(loc, source.raw, kind)
    if kind == WRONG and ctx["at"]:
        return source.problem((*path, *ctx["at"]), ctx["says"], ctx["allowed"], ctx["attempt"])
    if kind == WRONG:
        allowed = ctx["allowed"]
        if ctx["says"] == NO_LENGTH and len(path) < len(loc):  # a short form: say what else may stand there
            allowed = _described(fields.field_at(root, path))
        return source.problem(path, ctx["says"], allowed, ctx["attempt"])
    field = fields.field_at(root, loc)
    if kind == "missing":
        return _missing(path, field, source)
    if kind == "extra_forbidden":
        return _unknown(path, fields.tables_at(root, loc[:-1]), source, root)
    if kind == "literal_error":
        return _choice(path, one["input"], choices(field), source)
    if kind == "bool_type":
        return source.problem(path, "is neither true nor false", "write true or false, without quotes")
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return _no_table(path, fields.below(fields.tables_at(root, loc[:-1]), loc[-1]), source)
    return source.problem(path, one["msg"], _described(field))


def _stated(loc: tuple[str | int, ...], raw: object, kind: str) -> Path:
    """The path as the maker wrote it, without the levels that a short form's expansion adds."""
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
    return f"it means: {_lowered(field.description)}" if field is not None and field.description else ""


def _shown(value: object, source: Source) -> object:
    """A default as it would stand in the file."""
    if not isinstance(value, Mm):
        return value
    return round(from_mm(float(value), Facts(source.raw).unit), 4)


def _no_table(path: Path, tables: fields.Tables, source: Source) -> Problem:
    """A single value or a list where keys are wanted."""
    known = fields.fields(tables)
    stated = ".".join("*" if isinstance(part, int) else part for part in path)
    required = [name for name, inner in known.items() if inner.is_required() and f"{stated}.{name}" not in DEFAULTS]
    names = required or list(known)
    if len(path) == 1:
        attempt = f"write [{path[0]}] on a line of its own, and its keys on the lines below"
        return source.problem(path, "is one value, but a section of several keys is wanted", attempt=attempt)
    shape = ", ".join(f"{name} = ..." for name in names[:_MANY])
    says = "gives no keys, but needs them" if len(names) > 1 else "gives no key, but needs one"
    return source.problem(
        path, says, f"write {path[-1]} = {{{shape}}}" if isinstance(path[-1], str) else f"write {{{shape}}}"
    )


def choices(field: FieldInfo | None) -> tuple[str, ...]:
    """The words that a key may hold, where it is one of a few words."""
    return tuple(word for word in _words(field.annotation) if isinstance(word, str)) if field is not None else ()


def _words(annotation: Any) -> tuple[object, ...]:
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    return tuple(word for part in get_args(annotation) if get_origin(annotation) in _EITHER for word in _words(part))


def _lowered(text: str) -> str:
    return (text[0].lower() + text[1:]).rstrip(".") if not text[:2].isupper() else text.rstrip(".")


def _missing(path: Path, field: FieldInfo | None, source: Source) -> Problem:
    if len(path) == 1:
        return source.problem(path, f"the section [{path[0]}] is missing", "every design has it")
    words = choices(field)
    if words:
        return source.problem(path, "is missing", f"allowed are {_listed(words)}", _described(field))
    return source.problem(path, "is missing", _described(field))


def _unknown(path: Path, tables: fields.Tables, source: Source, root: type[Table]) -> Problem:
    name = str(path[-1])
    if path in RENAMED:
        return source.problem(path, f"is the old name of {RENAMED[path][-1]}, which is there too", attempt="keep one")
    names = list(fields.fields(tables))
    near = nearest(name, names)
    says = "is an unknown section" if len(path) == 1 else "is an unknown key"
    if near is not None:
        return source.problem(path, says, attempt=f'did you mean "{near}"?')
    homes = [section for section in root.model_fields if name in fields.fields(fields.below((root,), section))]
    if homes:
        return source.problem(path, says, attempt=f"it belongs in [{homes[0]}]")
    listed = ", ".join(sorted(names)[:_MANY] if len(names) > _MANY else names)
    return source.problem(path, says, f"known are {listed}" + (", ..." if len(names) > _MANY else ""))


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(as_toml(word) for word in words)


def _choice(path: Path, value: object, words: tuple[str, ...], source: Source) -> Problem:
    near = nearest(value, words) if isinstance(value, str) else None
    allowed = f"allowed are {_listed(words)}"
    attempt = f'did you mean "{near}"?' if near is not None else ""
    return source.problem(path, "is not one of the choices", allowed, attempt)
