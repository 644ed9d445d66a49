"""The heel by itself, and its tenon."""
