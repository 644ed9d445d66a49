"""Paper, tiles, titles and the verdict on them."""
