"""Export folders, all or nothing."""
