"""The record of calls: every acknowledged answer on disk before the next question shows."""
