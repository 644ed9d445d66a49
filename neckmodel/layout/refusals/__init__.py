"""Shapes that cannot be laid out, each refused with the key to change."""
