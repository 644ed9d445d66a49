"""Words that a maker may type in upper or lower case: units, presets, sheets, papers, kinds and formats."""

from __future__ import annotations

from collections.abc import Iterable

NAMED = {"mm": "mm", "in": "inches"}
_UNITS = {"mm": "mm", "millimetres": "mm", "millimeters": "mm", "in": "in", "inch": "in", "inches": "in", '"': "in"}


def unit_named(text: str) -> str:
    """The unit of a design file, "mm" or "in". Raises CallError for any other word."""
    return _UNITS[one_of(text, _UNITS, "unit", "mm and in")]


def any_case(typed: Iterable[str] | None, known: Iterable[str]) -> list[str]:
    """The typed words, each known one in its usual spelling. Unknown ones stay, to be refused later with the list."""
    written = {word.lower(): word for word in known}
    return [written.get(text.strip().lower(), text) for text in typed or ()]


def one_of(text: str, words: Iterable[str], what: str, told: str = "") -> str:
    """The known word that was typed, in upper or lower case. Raises CallError with the nearest one and all there
    are."""
    import difflib

    from neckmodel.cli.guard import CallError
    from neckmodel.design.file.toml import quoted

    known = {word.lower(): word for word in words}
    found = known.get(text.strip().lower())
    if found is not None:
        return found
    near = difflib.get_close_matches(text.strip().lower(), known, 1, 0.6)
    meant = f"; did you mean {known[near[0]]}?" if near else ""
    raise CallError(f"there is no {what} {quoted(text)}; there are: {told or ', '.join(known.values())}{meant}")
