"""What follows from measured sizes: numbers, next cuts, shims."""
