"""Authored files: YAML whose every scalar keeps its text and its place, and the mistakes found in it."""
