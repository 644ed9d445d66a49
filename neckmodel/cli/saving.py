"""Single text files that a command leaves: whole, or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from neckmodel.cli.guard import CallError


def save(folder: str | Path, name: str, text: str, *, overwrite: bool) -> Path:
    """Write `text` as UTF-8 into `folder` (made if need be) beside its place, then give it its name.

    Raises CallError, and leaves what was there as it was, where that cannot be done or would overwrite a file.
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
    """Give the draft its name unless something has it: a second name fails where a rename would overwrite."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without second names
        with path.open("xb") as file:
            file.write(draft.read_bytes())


def refuse_place(folder: str | Path | None, *names: str) -> None:
    """Refuse, before any work, a folder that could not take files of these names. Raises CallError. None: none is asked
    for."""
    from neckmodel.errors import ExportError
    from neckmodel.writers.drafts import try_place

    if folder is None:
        return
    try:
        try_place(Path(folder), *names)
    except ExportError as error:
        raise CallError(str(error)) from None
