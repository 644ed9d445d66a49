"""The plane and its bounds: points, curves, contours, paths. Nothing here knows a neck."""
