"""One file a sheet."""
