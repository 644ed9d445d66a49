"""What follows from what was measured: numbers, next cuts, shims."""
