"""Kinds of value, dotted keys and the fields that have them."""
