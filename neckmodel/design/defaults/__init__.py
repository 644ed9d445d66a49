"""Every default and usual range, stated or following from others."""
