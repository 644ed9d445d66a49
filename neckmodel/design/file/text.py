"""Reads the text of a design file, or gives one clear message why it cannot.

A text that would keep the TOML parser busy for minutes (its time and memory grow with the square of a key's parts) is
refused before it is parsed.
"""

from __future__ import annotations

import re
from pathlib import Path

from neckmodel.design.file.toml import quoted
from neckmodel.errors import DesignError, Problem

LARGEST = 1 << 20  # bytes; a design file has a few thousand
LONGEST_LINE = 4000  # signs
MOST_PARTS = 24  # of a dotted key; the deepest of a design has 5
_WORD = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_TOO_MANY_PARTS = re.compile(rf"(?<![A-Za-z0-9_-]){_WORD}(?:[ \t]*\.[ \t]*{_WORD}){{{MOST_PARTS}}}")


def readable(path: Path) -> bool:
    """Whether the path can be read: a file or a pipe, not a folder."""
    try:
        return path.exists() and not path.is_dir()
    except (OSError, ValueError):  # too long for a path, or with characters that no path may have
        return False


def text_of(path: Path) -> str:
    """Reads a UTF-8 text file. Raises DesignError where it is missing, no file, too large or no text."""
    name = str(path) if str(path).isprintable() else quoted(str(path))
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise _error(name, "there is no such file", "`neckmodel presets` lists the designs that can be named") from None
    except IsADirectoryError:
        raise _error(name, "is a folder, not a design file", "name the .toml file in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _error(name, f"cannot be read ({reason})") from None
    return decoded(data, name)


def decoded(data: bytes, name: str) -> str:
    """The bytes of a design file as text."""
    if len(data) > LARGEST:
        raise _error(name, "is larger than 1 MiB", "a design file is a text of a few kilobytes")
    if data.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise _error(name, "starts with a byte order mark", "save it as UTF-8 without one")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _error(name, "is not UTF-8 text", "save it as UTF-8", line) from None
    return text


def check(text: str, name: str) -> None:
    """Raises DesignError for a text that cannot be a design file, judged by its characters, the length of its lines
    and the number of parts in its keys."""
    for at, sign in enumerate(text):
        if (sign < " " and sign not in "\t\r\n") or sign == "\x7f":
            line = text.count("\n", 0, at) + 1
            raise _error(name, f"holds the control character {quoted(sign)}", "remove it", line)
    for number, row in enumerate(text.split("\n"), start=1):
        if len(row) > LONGEST_LINE:
            raise _error(
                name, f"has a line of more than {LONGEST_LINE} characters", "break its list over lines", number
            )
        if row.count(".") >= MOST_PARTS and _TOO_MANY_PARTS.search(row):
            raise _error(name, f"has a dotted key of more than {MOST_PARTS} parts", "no key here has that many", number)


def _error(name: str, says: str, attempt: str = "", line: int | None = None) -> DesignError:
    return DesignError([Problem("the file", says, attempt=attempt, line=line)], name)
