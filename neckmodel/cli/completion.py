"""What the shell offers when a maker presses the tab key: names of designs, kinds, sheets, checks and keys.

Switched on by `neckmodel --install-completion`. Each function takes the text typed so far and returns the words that
may stand there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design.values.kinds import Table


def _starting(words: Iterable[str], typed: str) -> list[str]:
    return [word for word in words if word.lower().startswith(typed.lower())]


def designs(incomplete: str) -> list[str]:
    """Presets, design files and the folders on the way to them."""
    from neckmodel import presets

    return [*_starting(presets.names(), incomplete), *_files(incomplete)]


def _files(typed: str) -> Iterator[str]:
    start = Path(typed)
    folder = start if typed.endswith("/") else start.parent
    try:
        for path in sorted(folder.iterdir()):
            shown = path.as_posix()
            if shown.startswith(typed) and (path.is_dir() or path.suffix == ".toml") and not path.name.startswith("."):
                yield f"{shown}/" if path.is_dir() else shown
    except OSError:
        return


def units(incomplete: str) -> list[str]:
    """Units of a design file."""
    from neckmodel.units import FILE_UNITS

    return _starting(FILE_UNITS, incomplete)


def sheet_kinds(incomplete: str) -> list[str]:
    """Kinds of sheets."""
    from neckmodel.sheets.registry import names

    return _starting(names(), incomplete)


def papers(incomplete: str) -> list[str]:
    """Paper sizes."""
    from neckmodel.sheets.pages.sizes import LONG, PAPERS

    return _starting((*PAPERS, LONG), incomplete)


def drawing_formats(incomplete: str) -> list[str]:
    """Formats of drawings."""
    from neckmodel.writers.folders.sheets import DRAWING_FORMATS

    return _starting(DRAWING_FORMATS, incomplete)


def formats(incomplete: str) -> list[str]:
    """Formats of an export."""
    from neckmodel.writers.registry import FORMATS

    return _starting(FORMATS, incomplete)


def setups(incomplete: str) -> list[str]:
    """Ways in which a part can lie in a STEP file."""
    from neckmodel.writers.setups import SETUPS

    return _starting(SETUPS, incomplete)


def jig_kinds(incomplete: str) -> list[str]:
    """Kinds of jigs."""
    from neckmodel.jigs.registry import KINDS

    return _starting((*KINDS, "list"), incomplete)


def checks(incomplete: str) -> list[str]:
    """Names of checks."""
    from neckmodel.checks.registry import EXPLAINED

    names = [name for about in EXPLAINED for name in _each(about.name)]
    return _starting((*dict.fromkeys(f"{name.partition('/')[0]}/" for name in names), *names), incomplete)


def _each(name: str) -> list[str]:
    """The name itself, or the names that a pattern stands for."""
    from neckmodel.layout.channel.step import StepName as Step
    from neckmodel.layout.rod.bars import BAR

    steps = (Step.RUN, Step.ADJUSTER, Step.BLOCK, Step.ANCHOR, Step.ACCESS_SLOT, f"{BAR}1")
    return [name.replace("<step>", step) for step in steps] if "<step>" in name else [] if "<" in name else [name]


def explained(incomplete: str) -> list[str]:
    """What `explain` knows: checks, and keys, which have a dot in them."""
    return keys(incomplete) if "." in incomplete else checks(incomplete)


def ways(incomplete: str) -> list[str]:
    """Ways of varying a design."""
    return _starting(("tolerance", "range"), incomplete)


def keys(incomplete: str) -> list[str]:
    """Every dotted key of a design file; of lists, the first item's."""
    from neckmodel.design.design import Design

    return _starting(_keys(Design, ""), incomplete)


def settings(incomplete: str) -> list[str]:
    """Keys as `--set` takes them; for a key with a choice of words, each word."""
    from neckmodel.design.design import Design
    from neckmodel.design.reading.messages import choices
    from neckmodel.design.values import fields
    from neckmodel.design.values.keys import split

    key, equals, _ = incomplete.partition("=")
    if equals:
        return _starting((f"{key}={word}" for word in choices(fields.field_at(Design, split(key)))), incomplete)
    return [f"{found}=" for found in keys(incomplete)]


def _keys(table: type[Table], before: str) -> Iterator[str]:
    from neckmodel.design.values import fields

    for name, field in fields.fields((table,)).items():
        inner = fields.below((table,), name)
        listed = "tuple" in str(field.annotation) and inner
        here = f"{before}{name}{'.0' if listed else ''}"
        if not listed and before:
            yield here
        for one in inner:
            yield from _keys(one, f"{here}.")
