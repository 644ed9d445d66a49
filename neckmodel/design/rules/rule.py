"""Rules: what must hold between the values of a design, beyond each value's own bounds.

A rule is a function of the design that yields each breach. It runs only when every section it reads is free of
mistakes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from neckmodel.design.design import Design
from neckmodel.design.file.source import Source
from neckmodel.design.values.keys import split
from neckmodel.design.values.kinds import plain
from neckmodel.errors import Problem
from neckmodel.lengths import rounded_down, rounded_up


@dataclass(frozen=True)
class Broken:
    """One breach of a rule: dotted key, what is wrong, what is allowed, what to try."""

    key: str
    says: str
    allowed: str = ""
    attempt: str = ""


Rule = Callable[[Design], Iterable[Broken]]


@dataclass(frozen=True)
class Needing:
    """A rule, and the sections that it reads."""

    sections: frozenset[str]
    rule: Rule


def needs(*sections: str) -> Callable[[Rule], Needing]:
    """Decorator: names the sections that a rule reads."""
    return lambda rule: Needing(frozenset(sections), rule)


def broken(rules: Iterable[Needing], design: Design, sound: frozenset[str], source: Source) -> Iterator[Problem]:
    """Every breach among the sections without mistakes, once for each key and sentence."""
    seen: set[tuple[str, str]] = set()
    for needing in rules:
        if not needing.sections <= sound:
            continue
        for found in needing.rule(design):
            if (found.key, found.says) not in seen:
                seen.add((found.key, found.says))
                yield source.problem(
                    split(found.key), found.says, found.allowed, found.attempt, _value(design, found.key)
                )


def _value(design: Design, key: str) -> object:
    """The value as read, to be shown where it is a default."""
    value: object = design
    for part in split(key):
        if isinstance(part, int):
            value = value[part] if isinstance(value, tuple) and part < len(value) else None
        else:
            value = getattr(value, part, None)
    return value if isinstance(value, str | int | float) else None


def length(size: float) -> str:
    """A length in words, to 0.01 mm, without needless zeros."""
    return f"{plain(round(size, 2))} mm"


def at_most(limit: float) -> str:
    """The words `allowed is at most 3.00 mm`. This and the next three round the limit so that the printed number is
    itself allowed."""
    return f"allowed is at most {length(rounded_down(limit))}"


def at_least(limit: float) -> str:
    """The words `allowed is at least 3.00 mm`."""
    return f"allowed is at least {length(rounded_up(limit))}"


def more_than(limit: float) -> str:
    """The words `allowed is more than 3.00 mm`."""
    return f"allowed is more than {length(rounded_up(limit))}"


def less_than(limit: float) -> str:
    """The words `allowed is less than 3.00 mm`."""
    return f"allowed is less than {length(rounded_down(limit))}"
