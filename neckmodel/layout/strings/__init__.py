"""Strings, frets and action."""
