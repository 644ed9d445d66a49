"""What to change so that a finding passes."""
