"""The layout as plain data."""
