"""`python -m neckmodel` and the `neckmodel` command."""

from __future__ import annotations

import sys


def main() -> None:
    try:
        from neckmodel.cli import app  # kept inside, so that importing this module costs nothing
    except KeyboardInterrupt:
        sys.exit(130)
    app(prog_name="neckmodel")


if __name__ == "__main__":
    main()
