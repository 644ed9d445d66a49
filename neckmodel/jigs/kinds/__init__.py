"""The kinds of jig, one file each with `refuse` and `draft`."""
