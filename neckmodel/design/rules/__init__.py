"""What must hold between values."""
