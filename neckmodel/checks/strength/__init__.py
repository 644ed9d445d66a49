"""The estimates of strength held against their limits."""
