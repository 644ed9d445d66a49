"""The sheets, one file each."""
