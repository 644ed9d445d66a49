"""The layout as tables of words: each row has one home here, whether a page or a terminal shows it."""

from __future__ import annotations

from neckmodel.layout.tables.table import Table, Voice

__all__ = ["Table", "Voice"]
