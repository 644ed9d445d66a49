"""Router templates and sleds."""
