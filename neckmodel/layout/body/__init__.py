"""What of the body concerns the neck: its drawing, wings and recesses."""
