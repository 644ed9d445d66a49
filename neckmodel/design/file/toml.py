"""Values as a design file would write them, safe to print."""

from __future__ import annotations

from datetime import date, datetime, time

from neckmodel.design.values.keys import dotted

_LONGEST = 60  # signs of a value shown in a message


def as_toml(value: object) -> str:
    """A value as the file would write it, shortened, and safe to print."""
    text = _written(value)
    return text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."


def _written(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_written(item) for item in value[:_LONGEST]) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{dotted((key,))} = {_written(item)}" for key, item in value.items()) + "}"
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, int) and abs(value) >= 10**20:
        return f"{'-' if value < 0 else ''}a whole number of more than 20 digits"
    return str(value)


def quoted(text: str) -> str:
    r"""In double quotes, with everything that could upset a terminal escaped (`\u001b`)."""
    short = text[: 2 * _LONGEST]
    return '"' + "".join(_sign(sign) for sign in short) + '"'


def printable(text: str) -> str:
    """The text with control characters escaped, so that it is safe to print."""
    return "".join(sign if sign.isprintable() else f"\\u{ord(sign):04x}" for sign in text)


def _sign(sign: str) -> str:
    if sign in '"\\':
        return "\\" + sign
    return printable(sign)
