"""Areas, neutral axes and stiffness of a neck's sections."""
