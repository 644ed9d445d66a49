"""Draft folders, in which files are written before they get their place. They are removed whatever becomes of the work.

A killed run leaves its draft behind. The next run that writes there removes it. It knows a draft that is in use by its
lock: a running process holds the lock, and the system releases it however the process ends.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from neckmodel import stopping
from neckmodel.errors import ExportError

PREFIX, SUFFIX = ".neckmodel-", ".part"
LONGEST = "n" * 150  # as long as the longest name of a file that an export writes, and its draft's


@contextlib.contextmanager
def drafts(folder: Path) -> Iterator[Path]:
    """A new folder inside `folder`, which is made if need be; afterwards removed, with the folders made for it that
    stayed empty.

    Raises OSError where it cannot be made.
    """
    new = [parent for parent in (folder, *folder.parents) if not parent.exists()]  # the deepest first
    lock: int | None = None
    draft: Path | None = None
    try:
        with stopping.held():
            folder.mkdir(parents=True, exist_ok=True)
            sweep(folder)
            while True:
                draft = Path(tempfile.mkdtemp(prefix=PREFIX, suffix=SUFFIX, dir=folder))
                lock = _locked(draft)
                if lock is not None:  # otherwise another run has removed it before it was locked
                    break
            stopping.begin(draft, new)
        yield draft
    finally:
        with stopping.held():
            stopping.take_away(draft, new)
            if draft is not None:
                stopping.end(draft)
        if lock is not None and lock >= 0:
            os.close(lock)


def sweep(folder: Path) -> None:
    """Removes the drafts of runs that have ended, never that of a running process."""
    for draft in sorted(folder.glob(f"{PREFIX}*{SUFFIX}")):
        lock = _locked(draft)
        if lock is None:
            continue
        if lock >= 0:
            stopping.take_away(draft)
            os.close(lock)


def try_place(folder: Path, *names: str) -> None:
    """Raises ExportError where `folder` could not take files of these names (`folder/file` too): before minutes of
    work, not after."""
    folder = folder.absolute()
    taken = next((each for each in (folder, *folder.parents) if os.path.lexists(each) and not each.is_dir()), None)
    if taken is not None:
        raise ExportError(f"{taken} is a file, not a folder")
    try:
        with drafts(folder) as draft:
            for name in names:
                (draft / name).parent.mkdir(exist_ok=True)
                (draft / name).touch()
    except OSError as error:
        raise ExportError(f"{folder}: cannot be written: {error.strerror or error}") from error


def refusal(draft: Path) -> OSError | None:
    """Why the file system takes no more of this file; None where it does. Libraries that write by themselves do not
    report it."""
    try:
        with draft.open("ab") as file:
            file.write(bytes(1 << 20))
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        return error
    return None


def _locked(draft: Path) -> int | None:
    """A handle that holds the draft's lock; None where another process holds it or the draft is gone; -1 where the
    system has no such locks, so that nothing is removed."""
    try:
        import fcntl
    except ImportError:
        return -1
    try:
        handle = os.open(draft, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), draft.stat()):
            return handle
    except BlockingIOError:
        pass
    except FileNotFoundError:
        pass
    except OSError:  # a file system without locks
        os.close(handle)
        return -1
    os.close(handle)
    return None
