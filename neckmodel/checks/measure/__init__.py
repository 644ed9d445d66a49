"""Measures solids: walls, holes, overlaps, swept keys and sections. No limits and no verdicts here."""
