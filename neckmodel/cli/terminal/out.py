"""Writes results to stdout and remarks to stderr. A closed pipe or a narrow encoding never ends in a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import TextIO


def say(text: str) -> None:
    """Prints a line or more of result on stdout."""
    _write(sys.stdout, text + "\n")


def tell(text: str) -> None:
    """Prints a remark, a message or progress on stderr."""
    if text:
        _write(sys.stderr, text + "\n")


def say_json(data: Mapping[str, object]) -> None:
    """Prints JSON on stdout; where stdout cannot carry every sign, all but ASCII is escaped."""
    import json

    from neckmodel.writers.jsons import clean, dumps

    if fancy(sys.stdout):
        say(dumps(data).rstrip("\n"))
    else:
        say(json.dumps(clean(data), indent=1, allow_nan=False))


def fancy(stream: TextIO) -> bool:
    """Whether the stream carries every sign there is."""
    return (stream.encoding or "").lower().replace("-", "").replace("_", "") in {"utf8", "utf8sig", "utf16", "utf32"}


def flush() -> None:
    """Writes all output before the exit code is settled, so that Python has nothing left to fail at."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except BrokenPipeError:
            _leave(stream)


def _write(stream: TextIO, text: str) -> None:
    encoding = stream.encoding or "ascii"
    try:
        # what a terminal cannot show becomes "?"; a lone surrogate (from a file name) too
        stream.write(text.encode(encoding, "replace").decode(encoding))
        stream.flush()
    except BrokenPipeError:  # the reader stopped (`| head`): go on quietly, for the work itself is still wanted
        _leave(stream)


def _leave(stream: TextIO) -> None:
    """Discards whatever else goes to this stream."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
