"""How every command ends: with an exit code that keeps its promise, and one clear line instead of a traceback."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Callable, Sequence
from typing import Any

from typer.core import TyperGroup

from neckmodel.cli.terminal.out import flush
from neckmodel.errors import DesignError, ExportError, KernelError, MeshError, NeckmodelError
from neckmodel.stopping import FAULT, INTERRUPTED, SAYS

PASSED, FAILED, WRONG = 0, 1, 2
"""Exit codes: all checks pass; a check failed; the input or the call is wrong. FAULT: a fault of ours."""

# answers of a file system that can or may take no more: no fault of this program
FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EROFS, errno.EACCES, errno.EPERM, errno.ENAMETOOLONG}

TRACEBACK = "NECKMODEL_TRACEBACK"


class CallError(NeckmodelError, ValueError):
    """The command was called in a way that cannot work."""


class Guarded(TyperGroup):
    """A group of commands whose errors all become exit codes."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,
    ) -> Any:
        """Runs the command, writes all output, and exits with the code of `guarded`."""
        run = super().main
        code = guarded(lambda: run(args, prog_name, complete_var, False, windows_expand_args, **extra))
        flush()
        if standalone_mode:
            sys.exit(code)
        return code


def guarded(call: Callable[[], object]) -> int:
    """Runs a command and returns its exit code. Any error is reported on stderr."""
    from neckmodel.cli.terminal.out import tell

    try:
        code = call()
        if code == INTERRUPTED:  # typer takes Ctrl-C for itself
            raise KeyboardInterrupt
        return code if isinstance(code, int) else PASSED
    except SystemExit as stop:
        # completion scripts end this way, and so does typer where the reader of a pipe stops during a help text
        return PASSED if stop.code in (None, 0, 1) else WRONG
    except KeyboardInterrupt:
        tell(SAYS)
        return INTERRUPTED
    except Exception as error:  # noqa: BLE001 (the one place that turns any error into a line and a code)
        if os.environ.get(TRACEBACK) == "1":
            import traceback

            tell(traceback.format_exc().rstrip())
        code, text = verdict(error)
        tell(text)
        return code


def verdict(error: Exception) -> tuple[int, str]:
    """(exit code, what to say) for an error."""
    if isinstance(error, DesignError):
        return WRONG, str(error)
    ours = isinstance(error, KernelError | MeshError)
    if isinstance(error, ExportError):
        root: BaseException = error
        while root.__cause__ is not None:  # the error was raised again, as another one, on its way here
            root = root.__cause__
        ours = not isinstance(root, OSError) or isinstance(root, NeckmodelError)
    if isinstance(error, NeckmodelError) and not ours:
        return WRONG, f"neckmodel: {error}"
    if isinstance(error, OSError) and not isinstance(error, NeckmodelError) and error.errno in FULL:
        where = f"{error.filename}: " if error.filename else ""
        return WRONG, f"neckmodel: {where}cannot be written: {error.strerror}"
    wrong_call = _wrong_call(error)
    if wrong_call is not None:
        return WRONG, wrong_call
    said = " ".join(str(error).split())
    line = f"{type(error).__name__}: {said}" if said else type(error).__name__
    return FAULT, (
        f"neckmodel: a fault of neckmodel, not of your design: {line} | "
        f"please report this line with the design file; {TRACEBACK}=1 shows where it happened"
    )


def _wrong_call(error: Exception) -> str | None:
    """The message about a wrong option or argument; None for any other error."""
    import typer

    # every wrong call is of one family, whose head has no public name of its own in typer; one member of it has
    says: Callable[[], str] | None = getattr(error, "format_message", None)
    if says is None or not isinstance(error, typer.BadParameter.__mro__[1]):
        return None
    said = says().rstrip()
    if not said or "\n" in said:  # called without a command: the text is the help, or the help has been printed already
        return said
    context = getattr(error, "ctx", None)
    command = context.command_path if context is not None else "neckmodel"
    said = said.rstrip(".")
    return f"neckmodel: {said[:1].lower()}{said[1:]}; `{command} --help` shows how"
