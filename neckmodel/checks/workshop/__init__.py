"""Checks of the workshop: board, cutters and glued pieces."""
