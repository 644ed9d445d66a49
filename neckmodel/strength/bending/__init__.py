"""How a neck bends, is stressed, and is calibrated."""
