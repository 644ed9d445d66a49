"""The estimates of strength, compared with their limits."""
