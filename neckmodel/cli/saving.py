"""Writes single text files: complete, or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from neckmodel.cli.guard import CallError


def save(folder: str | Path, name: str, text: str, *, overwrite: bool) -> Path:
    """Writes `text` as UTF-8 into `folder` (made if need be) beside its place, then gives it its name.

    Raises CallError, and leaves what was there as it was, where that is not possible or would overwrite a file.
    """
    from neckmodel.writers.atomic import make_readable
    from neckmodel.writers.drafts import drafts

    path = Path(folder) / name
    try:
        with drafts(path.parent) as place:
            draft = place / "draft"
            with draft.open("w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            make_readable(draft, 0o666)
            if overwrite:
                draft.replace(path)
            else:
                _name_once(draft, path)
    except FileExistsError:
        raise CallError(f"{path} is there already; it stays as it is") from None
    except OSError as error:
        raise CallError(f"{path}: cannot be written: {error.strerror or error}") from None
    return path


def _name_once(draft: Path, path: Path) -> None:
    """Gives the draft its name unless a file has it: making a second name fails where a rename would overwrite."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        with path.open("xb") as file:
            file.write(draft.read_bytes())


def refuse_place(folder: str | Path | None, *names: str) -> None:
    """Raises CallError, before any work, where a folder could not take files of these names. None: no folder is asked
    for."""
    from neckmodel.errors import ExportError
    from neckmodel.writers.drafts import try_place

    if folder is None:
        return
    try:
        try_place(Path(folder), *names)
    except ExportError as error:
        raise CallError(str(error)) from None
