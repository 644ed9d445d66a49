"""Woods and metals with their sources."""
