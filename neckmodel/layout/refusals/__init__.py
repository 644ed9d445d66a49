"""What cannot be laid out, each with the key to change."""
