"""What rods do to the neck, and the neck to them."""
