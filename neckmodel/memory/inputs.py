"""The key of a call: what function it is of, and the whole content of what it was given. No identity, no hash code.

Two values get one key only where they are of the same types and the same to the last bit: 0.0 and -0.0 differ, and so
do 1, 1.0 and True. What was itself made by a remembered function is written by its own key.
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum

Known = Callable[[object], bytes | None]
"""Gives the key under which an object was made, or None where no remembered function made it."""

PLAIN = (float, str, int, bool, type(None))


class UnkeyableError(Exception):
    """A value whose content cannot be told: a function, something that can be changed, a solid of unknown make."""


def key_of(name: str, args: tuple[object, ...], kwargs: Mapping[str, object], known: Known) -> bytes:
    """The key of a call, 16 bytes. Raises UnkeyableError where an argument's content cannot be told."""
    written: list[bytes] = [name.encode()]
    _write(args, written, known)
    for key in sorted(kwargs):
        written.append(b"=" + key.encode() + b":")
        _write(kwargs[key], written, known)
    return hashlib.blake2b(b"".join(written), digest_size=16).digest()


def _write(value: object, written: list[bytes], known: Known) -> None:
    """Writes a value's type and content. Every piece tells its length or ends in its own sign, so that no two values
    are written alike."""
    kind = type(value)
    if kind is float:
        written.append(b"f" + struct.pack("<d", value))
    elif kind is str:
        _write_text(value, written)
    elif kind in PLAIN:
        written.append(f"{kind.__name__} {value};".encode())
    elif isinstance(value, tuple | list):
        written.append(f"{_name(kind)}[{len(value)}:".encode())
        for each in value:
            _write(each, written, known)
    elif (made := known(value)) is not None:
        written.append(b"made " + made)
    else:
        _write_other(value, written, known)


def _write_other(value: object, written: list[bytes], known: Known) -> None:
    kind = type(value)
    if isinstance(value, Enum):
        written.append(f"{_name(kind)}.{value.name};".encode())
    elif is_dataclass(value) and not isinstance(value, type) and _stays(kind):
        written.append(f"{_name(kind)}{{".encode())
        for field in fields(value):
            _write(getattr(value, field.name), written, known)
    elif hasattr(value, "__array_interface__"):
        written.append(f"{_name(kind)} {value.dtype.str} {value.shape};".encode())  # type: ignore[attr-defined]
        written.append(value.tobytes())  # type: ignore[attr-defined]
    elif isinstance(value, Mapping):
        written.append(f"{_name(kind)}[{len(value)}:".encode())
        for key, each in value.items():
            _write(key, written, known)
            _write(each, written, known)
    elif isinstance(value, frozenset):
        written.append(f"{_name(kind)} ".encode())
        _write(tuple(sorted(value, key=repr)), written, known)
    else:
        raise UnkeyableError(_name(kind))


def _write_text(value: object, written: list[bytes]) -> None:
    text = str(value).encode()
    written.append(f"s{len(text)}:".encode())
    written.append(text)


def _stays(kind: type) -> bool:
    """Whether a dataclass is frozen: its fields are all that its values know, and they stay."""
    return bool(getattr(kind, "__dataclass_params__").frozen)  # noqa: B009 - the library declares no such name


def _name(kind: type) -> str:
    return f"{kind.__module__}.{kind.__qualname__}"
