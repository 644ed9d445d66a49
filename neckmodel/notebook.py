"""Values that a notebook shows as more than a line of text."""

from __future__ import annotations

from importlib import import_module


class Shown:
    """A value with a picture or a table of its own. The report draws it: that stands far above, so it is called by its
    name, and loaded when the value is shown."""

    def _repr_html_(self) -> str:
        """By which notebooks ask a value for its HTML."""
        return str(import_module("neckmodel.report.notebook").html_of(self))
