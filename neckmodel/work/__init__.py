"""The order of work in words and numbers, its settings, cautions and measures."""
