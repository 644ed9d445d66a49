"""Whether the rod lies, fits and can be turned."""
