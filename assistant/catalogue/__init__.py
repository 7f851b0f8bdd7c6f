"""The catalogue: what every name means. Readings, facts, observations, worked numbers, limits, cautions, causes."""
