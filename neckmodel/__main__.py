"""`python -m neckmodel` and the `neckmodel` command."""

from __future__ import annotations

import os
import sys


def main() -> None:
    try:
        from neckmodel.stopping import supervised
    except KeyboardInterrupt:
        sys.exit(130)  # as stopping.INTERRUPTED, which is not there yet
    leave(supervised(command))


def command() -> int:
    from neckmodel.cli import app  # kept inside, so that importing this module costs nothing

    return int(app(prog_name="neckmodel", standalone_mode=False))


def leave(code: int) -> None:
    """End the process. Python would take the CAD kernel apart first, 0.4 s of work for nothing; all output is out."""
    if "OCP" in sys.modules:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    sys.exit(code)


if __name__ == "__main__":
    main()
