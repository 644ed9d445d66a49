"""What the strings pull."""
