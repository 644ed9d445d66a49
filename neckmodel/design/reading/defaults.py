"""For a default that turns out impossible: which stated values it follows from."""

from __future__ import annotations

from collections.abc import Mapping

from neckmodel.design.defaults.defaults import DEFAULTS
from neckmodel.design.values.keys import Facts, Path, dotted, look_up, split


def is_default(path: Path, raw: object) -> bool:
    """Whether the value at this path is a default: the file states neither the key nor a short form of a table
    around it."""
    for part in path:
        if isinstance(raw, dict):
            if str(part) not in raw:
                return True
            raw = raw[str(part)]
        elif isinstance(raw, list | tuple) and isinstance(part, int) and part < len(raw):
            raw = raw[part]
        else:
            return raw is None
    return False


def follows_from(path: Path, raw: Mapping[str, object]) -> tuple[Path, ...]:
    """The stated values that the default at this path was computed from."""
    default = DEFAULTS.get(".".join("*" if isinstance(part, int) else part for part in path))
    if not callable(default):
        return ()
    facts = _Noting(raw)
    default(facts)
    return tuple(dict.fromkeys(facts.read))


class _Noting(Facts):
    """Facts that record which stated values were asked for."""

    def __init__(self, raw: Mapping[str, object]) -> None:
        super().__init__(raw)
        self.read: list[Path] = []

    def _find(self, key: str) -> object | None:
        found = super()._find(key)
        path = split(key)
        while path and look_up(self.raw, path) is None:
            path = path[:-1]
        if found is not None and len(path) > 1 and not isinstance(found, dict):
            self.read.append(path)
        return found


def reason(path: Path, raw: Mapping[str, object]) -> str:
    """`it follows from strings.spacing_at_nut`; empty where the default follows from no stated value."""
    keys = [dotted(one) for one in follows_from(path, raw)]
    if not keys:
        return ""
    return f"it follows from {keys[0] if len(keys) == 1 else ', '.join(keys[:-1]) + ' and ' + keys[-1]}; or state it"
