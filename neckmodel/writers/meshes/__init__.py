"""STL, 3MF and GLB."""
