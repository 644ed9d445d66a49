"""Checks of the rod: whether it lies, fits and can be turned."""
