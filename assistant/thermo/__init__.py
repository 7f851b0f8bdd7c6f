"""Refrigerants, moist air, and the physics of the circuit: pure functions on SI floats."""
