"""Screws, tuners and string posts."""
