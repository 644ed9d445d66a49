"""How the adjusting key reaches the adjuster: its slot, its tilt, its place."""
