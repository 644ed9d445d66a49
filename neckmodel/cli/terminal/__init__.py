"""Printing on a terminal."""
