"""What prints on a terminal."""
