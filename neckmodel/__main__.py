"""`python -m neckmodel` and the `neckmodel` command."""

from __future__ import annotations

import os
import sys


def main() -> None:
    """Runs the command line and ends the process with its exit code. Ctrl-C ends it with 130 at once."""
    try:
        from neckmodel.stopping import supervised
    except KeyboardInterrupt:
        sys.exit(130)  # as stopping.INTERRUPTED, which is not loaded yet
    leave(supervised(command))


def command() -> int:
    """Runs the command line and returns its exit code."""
    from neckmodel.cli import app  # kept inside, so that importing this module costs nothing

    return int(app(prog_name="neckmodel", standalone_mode=False))


def leave(code: int) -> None:
    """Ends the process at once. Python would first take the CAD kernel apart, 0.4 s of work for nothing; all output is
    written."""
    if "OCP" in sys.modules:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    sys.exit(code)


if __name__ == "__main__":
    main()
