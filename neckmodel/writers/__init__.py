"""Files: STEP, STL, 3MF, GLB and JSON, each re-read and compared before it gets its name, and the folder they go into.

Importing this package loads neither the CAD kernel nor a mesh library; each writer loads what it needs when it runs.
"""

from __future__ import annotations

from neckmodel.writers.folders.export import write
from neckmodel.writers.jsons import findings_json, layout_json
from neckmodel.writers.manifest import FileFact, Manifest
from neckmodel.writers.registry import DOCUMENTS, FORMATS, format_named
from neckmodel.writers.setups import SETUPS

__all__ = [
    "DOCUMENTS",
    "FORMATS",
    "SETUPS",
    "FileFact",
    "Manifest",
    "findings_json",
    "format_named",
    "layout_json",
    "write",
]
