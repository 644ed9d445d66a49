"""The command line, one file for each command. Nothing heavy is loaded before a command runs."""

from __future__ import annotations

from neckmodel.cli.app import app

__all__ = ["app"]
