"""The maker's text: read, bounded, its lines found again, written as TOML."""
