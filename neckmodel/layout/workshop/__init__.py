"""Router, sled, fences, board and tolerances."""
