"""The carved neck."""
