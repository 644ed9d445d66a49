"""What rods do to the neck, and what the neck does to them."""
