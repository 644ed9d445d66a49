"""The workshop's errors, drawn at random."""
