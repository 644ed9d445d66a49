"""The neck seen from above, from the side and in section."""
