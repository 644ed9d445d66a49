"""Outlines that a maker draws: DXF and SVG read into contours."""
