"""A maker's rods tried one by one."""
