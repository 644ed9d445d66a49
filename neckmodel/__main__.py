"""`python -m neckmodel` and the `neckmodel` command."""

from __future__ import annotations


def main() -> None:
    from neckmodel.cli import app  # kept inside, so that importing this module costs nothing

    app(prog_name="neckmodel")


if __name__ == "__main__":
    main()
