"""Checks of the wood that is left: walls, sections, cover, fret slots, screws, head and heel."""
