"""Wood left: walls, sections, cover, fret slots, screws, head and heel."""
