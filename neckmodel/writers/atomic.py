"""A file appears whole and verified, or does not appear."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path
from typing import Protocol, TypeVar

from neckmodel.errors import ExportError, NeckmodelError
from neckmodel.writers.base import Job, Target, Writer
from neckmodel.writers.drafts import refusal

JobT = TypeVar("JobT")
JobIn = TypeVar("JobIn", contravariant=True)


class Filling(Protocol[JobIn]):
    """The part of a writer, of solids or of drawings, that fills one file."""

    def write(self, job: JobIn, target: Target, path: Path) -> None:
        """Writes the file to `path`."""

    def verify(self, job: JobIn, target: Target, path: Path) -> None:
        """Reads the file again and compares it with the job; raises ExportError on any difference."""


def produce(writer: Writer, job: Job, target: Target, folder: Path) -> Path:
    """Write one file beside its place, re-read and compare it, then give it its name.

    Raises ExportError, and leaves an earlier file of that name as it was, when writing fails or the file reads back
    differently.
    """
    path = folder / target.file
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.file}.", suffix=writer.suffix, dir=folder)
    except OSError as error:
        raise ExportError(f"{path.name}: cannot be written in {folder}: {error.strerror}") from error
    os.close(handle)
    draft = Path(name)
    try:
        fill(writer, job, target, draft)
        draft.replace(path)
    except ExportError as error:
        raise ExportError(str(error).replace(draft.name, path.name)) from error
    except OSError as error:
        raise ExportError(f"{path.name}: cannot be written: {error.strerror or error}") from error
    finally:
        with contextlib.suppress(FileNotFoundError):
            draft.unlink()
    return path


def fill(writer: Filling[JobT], job: JobT, target: Target, draft: Path) -> None:
    """Write one file in a place where nobody looks yet, re-read and compare it, and have it stored on the disk. Raises
    ExportError."""
    try:
        writer.write(job, target, draft)
        verify(writer, job, target, draft)
    except Exception as error:
        if isinstance(error.__cause__ or error, OSError) and not isinstance(error.__cause__ or error, NeckmodelError):
            raise
        full = refusal(draft)
        if full is None:
            raise
        raise ExportError(f"{draft.name}: cannot be written: {full.strerror or full}") from full
    make_readable(draft, 0o666)
    sync(draft)


def verify(writer: Filling[JobT], job: JobT, target: Target, path: Path) -> None:
    """Re-read a file and compare it with what was meant. Raises ExportError on any difference."""
    try:
        writer.verify(job, target, path)
    except NeckmodelError:
        raise
    except Exception as error:  # every reader meets a damaged file in its own way
        raise ExportError(f"{path.name}: cannot be read back: {type(error).__name__}: {error}") from error


def make_readable(path: Path, mode: int) -> None:
    """Give a temporary file or folder, which was made private, the mode of an ordinary one."""
    mask = os.umask(0)
    os.umask(mask)
    path.chmod(mode & ~mask)


def sync(path: Path) -> None:
    """Have a file, or a folder's entries, stored on the disk before going on."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        if not path.is_dir():  # some systems cannot sync a folder; they do it by themselves
            raise
    finally:
        os.close(handle)
