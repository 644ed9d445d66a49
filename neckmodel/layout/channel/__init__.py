"""The steps of the channel, as planned and as cut."""
