"""From a file and its settings to a Design."""
