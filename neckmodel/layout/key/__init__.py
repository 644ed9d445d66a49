"""The adjusting key: its hexagon, its reach, its way out."""
