"""The body as far as it concerns the neck: its drawing, wings and recesses."""
