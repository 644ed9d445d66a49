"""The tables of the design file, one file a subject."""
