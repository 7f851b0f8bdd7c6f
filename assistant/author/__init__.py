"""The author's bench: what those who write trees look at, compare and try."""
