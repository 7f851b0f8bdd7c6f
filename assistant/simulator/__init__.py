"""A split system or heat pump worked from the physics of its parts, with faults of a stated severity."""
