"""PDF, SVG and DXF."""
