"""Board, cutters and glued pieces."""
