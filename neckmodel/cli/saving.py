"""Single text files that a command leaves: whole, or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from neckmodel.cli.guard import CallError


def save(folder: str | Path, name: str, text: str, *, overwrite: bool) -> Path:
    """Write `text` as UTF-8 into `folder` (made if need be) beside its place, then give it its name.

    Raises CallError, and leaves what was there as it was, where that cannot be done or would overwrite a file.
    """
    from neckmodel.writers.atomic import make_readable

    path = Path(folder) / name
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, draft = tempfile.mkstemp(prefix=f".{name}.", suffix=".part", dir=path.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            make_readable(Path(draft), 0o666)
            if overwrite:
                Path(draft).replace(path)
            else:
                _name_once(Path(draft), path)
        finally:
            with contextlib.suppress(FileNotFoundError):
                Path(draft).unlink()
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
