"""All writers. A new format is one class and one line here; the commands, the manifest and the tests pick it up."""

from __future__ import annotations

from neckmodel.errors import ExportError
from neckmodel.writers import documents
from neckmodel.writers.base import Writer
from neckmodel.writers.meshes.glb import GlbWriter
from neckmodel.writers.meshes.stl import StlWriter
from neckmodel.writers.meshes.threemf import ThreeMfWriter
from neckmodel.writers.step.step import StepWriter

FORMATS: dict[str, Writer] = {
    writer.name: writer for writer in (StepWriter(), StlWriter(), ThreeMfWriter(), GlbWriter())
}
"""What a maker may ask for, by name."""

DOCUMENTS: tuple[Writer, ...] = (documents.FINDINGS, documents.LAYOUT, documents.DESIGN)
"""What every export holds."""


def format_named(name: str) -> Writer:
    """Raises ExportError for a name that is not a format's."""
    if name not in FORMATS:
        raise ExportError(f"format {name!r} is not known; it is one of: {', '.join(FORMATS)}")
    return FORMATS[name]
