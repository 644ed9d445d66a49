"""The kernel's gate, and plain shapes made through it."""
