"""Results kept by the content of what they were made from. Knows no neck and no kernel."""
