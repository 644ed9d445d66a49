"""Paper, pages, tiles, titles, and the verdict on them."""
