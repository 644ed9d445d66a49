"""How the key comes to the adjuster."""
