"""The tree language: its model, its conditions, reading with places, checks, and example calls."""
