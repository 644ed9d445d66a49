"""One module a kind of jig, each with `refuse` and `draft`."""
