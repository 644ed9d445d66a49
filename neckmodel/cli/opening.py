"""Finds and reads the design that a maker typed as FILE."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.cli.guard import CallError
from neckmodel.cli.terminal.out import tell

if TYPE_CHECKING:
    from neckmodel.design import Design

STDIN = "standard input"


def open_design(file: str, overrides: Sequence[str] | None = None, quiet: bool = False) -> Design:
    """The design that FILE names: `-` is standard input; otherwise a file of that path, or a preset of that name.

    Raises DesignError for faults in it, or for a value set over a measured one; CallError where FILE is neither file
    nor preset.
    """
    over = tuple(overrides or ())
    design = _opened(file, over, quiet)
    if over:
        from neckmodel.cli.overruled import refuse_overruled

        refuse_overruled(design, (text.partition("=")[0].strip() for text in over), "--set", quiet)
    return design


def _opened(file: str, over: tuple[str, ...], quiet: bool) -> Design:
    from neckmodel.design import read, read_text
    from neckmodel.design.file.text import readable

    if file == "-":
        from neckmodel.design.file.text import LARGEST, decoded

        return read_text(decoded(sys.stdin.buffer.read(LARGEST + 1), STDIN), STDIN, over)
    path = Path(file)
    if not readable(path):
        from neckmodel import presets

        preset = presets.path_of(file)
        if preset is not None:
            beside = Path(f"{file}.toml")
            if not quiet and readable(beside):
                tell(f"neckmodel: {file} is the preset; write {beside} for the file in this folder")
            return read(preset, over)
        if path.suffix == "" and len(path.parts) == 1:
            raise CallError(_unknown(file, presets.names()))
    return read(file, over)


def _unknown(file: str, names: tuple[str, ...]) -> str:
    import difflib

    from neckmodel.design.file.text import readable
    from neckmodel.design.file.toml import quoted

    if readable(Path(f"{file}.toml")):
        return f"there is no preset {quoted(file)}; write {file}.toml for the file in this folder"
    near = difflib.get_close_matches(file, names, 1, 0.6)
    meant = f"; did you mean {near[0]}?" if near else ""
    return f"{quoted(file)} is neither a file nor a preset (presets: {', '.join(names)}){meant}"
