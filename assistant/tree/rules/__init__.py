"""The rules for a finished tree, one matter per module; `every.py` brings them together."""
