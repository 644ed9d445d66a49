"""Where rod and bars lie."""
