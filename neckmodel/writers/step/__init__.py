"""STEP files, written and read back."""
