"""The one way to the CAD kernel: import it, or say in one line which package is missing."""

from __future__ import annotations

import re
import sys
from types import ModuleType

from neckmodel.errors import MissingLibraryError

# shared object -> Debian/Ubuntu package that ships it
_APT = {"libGL.so.1": "libgl1", "libX11.so.6": "libx11-6"}
_WHEELS = {"cadquery", "OCP", "vtk", "vtkmodules"}


def load_cadquery() -> ModuleType:
    """The cadquery module, imported on first use.

    Raises MissingLibraryError, its text fit for a maker, if a system library or a wheel is missing.
    """
    # CadQuery imports one file of VTK's bindings, which pulls in the umbrella module `vtk` and with it 130 modules
    # that nothing here uses: a placeholder saves a fifth of the import. It is gone after; a real `import vtk` works.
    placeholder = ModuleType("vtk")
    placed = sys.modules.setdefault("vtk", placeholder) is placeholder
    try:
        import cadquery
    except ImportError as error:
        raise _explained(error) from None
    finally:
        if placed:
            sys.modules.pop("vtk", None)
    return cadquery


def _explained(error: ImportError) -> ImportError:
    """An error that tells a maker which package to install. An error that has nothing to do with the kernel is returned
    as it is."""
    missing = re.match(r"(lib[^:]+\.so[.\d]*): cannot open shared object file", str(error))
    if missing:
        package = _APT.get(missing[1], f"the package that ships {missing[1]}")
        return MissingLibraryError(
            f"the CAD kernel needs the system library {missing[1]}, which this machine lacks; "
            f"Debian/Ubuntu: sudo apt-get install {package}"
        )
    if (error.name or "").split(".")[0] in _WHEELS:
        return MissingLibraryError(
            f"the CAD kernel cannot be imported ({error}); "
            f"repair: {sys.executable} -m pip install --force-reinstall cadquery cadquery-ocp vtk"
        )
    return error
