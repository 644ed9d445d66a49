"""Rod, key, screws, tuners and strings as solids."""
