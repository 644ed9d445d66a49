"""The text of a design file, or one clear message why there is none."""

from __future__ import annotations

from pathlib import Path

from neckmodel.design.source import quoted
from neckmodel.errors import DesignError, Problem

LARGEST = 1 << 20  # bytes; a design file has a few thousand


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
    for at, sign in enumerate(text):
        if (sign < " " and sign not in "\t\r\n") or sign == "\x7f":
            line = text.count("\n", 0, at) + 1
            raise _error(name, f"holds the control character {quoted(sign)}", "remove it", line)
    return text


def _error(name: str, says: str, attempt: str = "", line: int | None = None) -> DesignError:
    return DesignError([Problem("the file", says, attempt=attempt, line=line)], name)
