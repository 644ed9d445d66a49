"""The sawn blank, its scarf and the pieces glued to it."""
