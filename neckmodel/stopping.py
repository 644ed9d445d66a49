"""Stops a run at once, wherever the work is: unfinished files are removed, and the exit code names the signal.

A call into the CAD kernel may take seconds, during which no Python runs. So the work is done in a child process: it
stops itself where it can, and its parent ends it where it cannot.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType
from typing import NoReturn

GRACE = 1.0  # s that the work has for stopping by itself
STOPPED = 128  # and the signal's number: the exit code, as shells count
INTERRUPTED = STOPPED + signal.SIGINT
FAULT = 3  # exit code, of a kernel that crashed
EARLIER = "old"  # name, inside a draft, of an earlier export that is moved aside for a moment
SAYS = "neckmodel: stopped"
_SIGNALS = ("SIGINT", "SIGTERM", "SIGHUP")


@dataclass
class _Run:
    """What this process must know when a signal comes. unfinished: each draft with its new parents; held: how many
    `held` blocks were entered; asked: the signal that came inside one; parent: the pipe on which the parent reads about
    drafts."""

    unfinished: dict[Path, tuple[Path, ...]] = field(default_factory=dict)
    held: int = 0
    asked: int | None = None
    parent: int | None = None


_RUN = _Run()
"""The one of this process. Signals come to a process, and its handlers are its own: nobody could pass them another."""


def begin(draft: Path, parents: Sequence[Path]) -> None:
    """From now on `draft` is removed if the work is stopped, and so are its new `parents`, deepest first, where
    empty."""
    _RUN.unfinished[draft] = tuple(parents)
    _tell({"draft": str(draft), "parents": [str(parent) for parent in parents]})


def end(draft: Path) -> None:
    """The draft is finished, and no longer removed."""
    if _RUN.unfinished.pop(draft, None) is not None:
        _tell({"done": str(draft)})


def take_away(draft: Path | None, parents: Sequence[Path] = ()) -> None:
    """Removes a draft, and the new folders around it, deepest first, that are empty. An earlier export moved aside in
    it goes back to its place."""
    import shutil

    if draft is not None:
        for earlier in sorted(draft.glob(f"{EARLIER}/*")):
            place = draft.parent / earlier.name
            if not place.exists():
                with contextlib.suppress(OSError):
                    earlier.rename(place)
        shutil.rmtree(draft, ignore_errors=True)
    for parent in parents:
        with contextlib.suppress(OSError):  # a folder that is not empty stays
            parent.rmdir()


@contextlib.contextmanager
def held() -> Iterator[None]:
    """Holds back signals during a few steps that belong together; a signal that comes takes effect after them."""
    _RUN.held += 1
    try:
        yield
    finally:
        _RUN.held -= 1
        if _RUN.asked is not None and not _RUN.held:
            _stop(_RUN.asked)


def supervised(work: Callable[[], int]) -> int:
    """Runs `work` in a child process, which Ctrl-C and ending signals stop within GRACE, and returns its exit code."""
    if not hasattr(os, "fork"):
        _watch()
        return work()
    life, told = os.pipe(), os.pipe()
    signal.pthread_sigmask(signal.SIG_BLOCK, _numbers())  # blocked until parent and child are ready for them
    child = os.fork()
    if child == 0:
        os.close(life[1])
        os.close(told[0])
        _RUN.parent = told[1]
        _watch()
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _numbers())
        import _thread

        _thread.start_new_thread(_end_with_parent, (life[0],))
        return work()
    os.close(life[0])
    os.close(told[1])
    return _waited(child, told[0])


def _waited(child: int, told: int) -> int:
    asked: list[int] = []

    def pass_on(number: int, frame: FrameType | None) -> None:  # noqa: ARG001 (as signals call it)
        asked.append(number)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, number)
        signal.setitimer(signal.ITIMER_REAL, GRACE)

    def finish(number: int, frame: FrameType | None) -> None:  # noqa: ARG001
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)

    signal.signal(signal.SIGALRM, finish)
    _on_signals(pass_on)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, _numbers())
    _, status = os.waitpid(child, 0)
    _on_signals(signal.SIG_IGN)
    signal.setitimer(signal.ITIMER_REAL, 0.0)
    if os.WIFEXITED(status):
        return os.WEXITSTATUS(status)
    with os.fdopen(told, encoding="utf-8") as lines:
        for draft, parents in _left(lines):
            take_away(draft, parents)
    ended = os.WTERMSIG(status)
    if asked:
        _say(SAYS)
        return STOPPED + asked[0]
    name = signal.Signals(ended).name
    if ended == signal.SIGKILL:
        _say(f"neckmodel: ended from outside ({name}); the machine may have run out of memory")
        return STOPPED + ended
    _say(f"neckmodel: a fault of neckmodel, not of your design: the work broke off, {name} | please report it")
    return FAULT


def _left(lines: Iterator[str]) -> Iterator[tuple[Path, list[Path]]]:
    """The drafts that an ended child has left unfinished."""
    left: dict[str, list[str]] = {}
    for line in lines:
        with contextlib.suppress(ValueError):  # the last one may be cut off
            note = json.loads(line)
            if "done" in note:
                left.pop(note["done"], None)
            else:
                left[note["draft"]] = note["parents"]
    for draft, parents in left.items():
        yield Path(draft), [Path(parent) for parent in parents]


def _watch() -> None:
    def come(number: int, frame: FrameType | None) -> None:  # noqa: ARG001
        if not _RUN.held:
            _stop(number)
        if _RUN.asked is None:
            _RUN.asked = number

    _on_signals(come)


def _on_signals(does: Callable[[int, FrameType | None], None] | signal.Handlers) -> None:
    """Sets what the signals do, except those ignored on purpose (as under nohup)."""
    for number in _numbers():
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, does)


def _numbers() -> list[signal.Signals]:
    """The signals that stop a run, as far as this system has them."""
    return [signal.Signals[name] for name in _SIGNALS if hasattr(signal, name)]


def _stop(number: int) -> NoReturn:
    _on_signals(signal.SIG_IGN)
    _take_all_away()
    _say(SAYS)
    os._exit(STOPPED + number)  # no code on the way up can catch this, as it could an exception


def _end_with_parent(life: int) -> None:
    """In the child: ends the work if its parent was killed, for then nobody waits for it."""
    os.read(life, 1)
    _take_all_away()
    os._exit(STOPPED + signal.SIGTERM)


def _take_all_away() -> None:
    for draft, parents in list(_RUN.unfinished.items()):
        take_away(draft, parents)


def _tell(note: dict[str, object]) -> None:
    if _RUN.parent is not None:
        with contextlib.suppress(OSError):
            os.write(_RUN.parent, (json.dumps(note) + "\n").encode())


def _say(text: str) -> None:
    """Prints straight to stderr, whose buffer may be in use at this moment. A moving status is wiped and the cursor
    shown."""
    wiped = b"\r\x1b[2K\x1b[?25h" if os.isatty(2) else b""
    with contextlib.suppress(OSError):
        os.write(2, wiped + f"{text}\n".encode())
