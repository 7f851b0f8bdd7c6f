"""The turns of a call as widgets, one class per kind."""
