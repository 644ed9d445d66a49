"""How a neck bends, what its wood bears, and how readings narrow the estimates."""
