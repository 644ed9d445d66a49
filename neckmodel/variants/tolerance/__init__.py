"""The workshop's errors drawn."""
