"""Which versions wrote a file."""

from __future__ import annotations

import importlib.metadata
import platform

LIBRARIES = ("cadquery", "cadquery-ocp", "lib3mf", "numpy", "trimesh")


def version(name: str) -> str | None:
    """The installed version of a distribution; None when it is not installed."""
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return None


PROGRAM = f"neckmodel {version('neckmodel') or '(not installed)'}"


def versions() -> dict[str, str | None]:
    """This program's, Python's and every library's that shapes a file."""
    own = {"neckmodel": version("neckmodel"), "python": platform.python_version()}
    return own | {name: version(name) for name in LIBRARIES}
