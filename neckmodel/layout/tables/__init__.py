"""The layout as tables of words. Page and terminal print the same tables from here."""

from __future__ import annotations

from neckmodel.layout.tables.table import Table, Voice

__all__ = ["Table", "Voice"]
