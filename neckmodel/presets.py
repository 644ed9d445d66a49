"""The designs that come with the tool: where they are, and a line about each."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from neckmodel.errors import NeckmodelError


@dataclass(frozen=True)
class Preset:
    """A design that comes with the tool. scale: of the outer strings, bass first, one if equal, mm. shows: the kinds of
    head, rod, heel and back in it."""

    name: str
    remark: str
    scale: tuple[float, ...]
    shows: str


def folder() -> Path:
    """The folder of the presets: inside the package in an installed wheel, beside it in a checkout.

    Raises NeckmodelError if there is neither.
    """
    package = Path(__file__).resolve().parent
    for place in (package / "presets", package.parent / "presets"):
        if place.is_dir():
            return place
    raise NeckmodelError("the presets are missing from this installation; install neckmodel again")


def names() -> tuple[str, ...]:
    """The names of all presets."""
    return tuple(sorted(path.stem for path in folder().glob("*.toml")))


def path_of(name: str) -> Path | None:
    """The file of a preset, named in upper or lower case; None where there is no such preset."""
    return folder() / f"{name.lower()}.toml" if name.lower() in names() else None


def presets() -> tuple[Preset, ...]:
    """All presets, by name. Only the few values shown are read; nothing is validated."""
    return tuple(_preset(folder() / f"{name}.toml") for name in names())


def _preset(path: Path) -> Preset:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    scale = data["strings"]["scale"]
    lengths = (scale["bass"], scale["treble"]) if isinstance(scale, dict) else (scale,)
    return Preset(path.stem, data["design"].get("remark", ""), tuple(float(length) for length in lengths), _shows(data))


def _shows(data: dict[str, dict[str, object]]) -> str:
    said = [
        _kind(data, "heel", "heel"),
        _head(data),
        _rods(data),
        "no rod" if "reinforcement" in data["neck"] else "",
        f"{data['bars'].get('count', 1)} bar(s)" if "bars" in data else "",
        _kind(data, "adjusting_key", "").removesuffix("-key") + " key" if "adjusting_key" in data else "",
        f"fretless ({data['fretboard']['fretless']})" if "fretless" in data["fretboard"] else "",
        "in one piece with its fretboard" if "in_one" in data["fretboard"] else "",
        _back(data["neck"].get("back", "C")),
    ]
    return ", ".join(part for part in said if part)


def _head(data: dict[str, dict[str, object]]) -> str:
    head = data.get("head", {})
    if head.get("kind") == "none":
        return "no head"
    return f"slotted {_kind(data, 'head', 'head')}" if "slots" in head else _kind(data, "head", "head")


def _rods(data: dict[str, dict[str, object]]) -> str:
    said = _kind(data, "rod", "rod")
    if data.get("rod", {}).get("count", 1) != 1:
        said = f"{data['rod']['count']} {said}s"
    return f"{said} from behind" if data.get("channel", {}).get("cut_from") == "back" else said


def _kind(data: dict[str, dict[str, object]], section: str, noun: str) -> str:
    return f"{data[section].get('kind', '')} {noun}".strip() if section in data else ""


def _back(back: object) -> str:
    if isinstance(back, dict) and "family" not in back:
        return "blended back"
    return f"{back['family'] if isinstance(back, dict) else back} back"
