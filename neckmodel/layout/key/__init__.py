"""The adjusting key: its hexagon, reach and way under the nut."""
