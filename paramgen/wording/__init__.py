"""Findings put in words: sentences from a file, in the person's unit."""
