"""Grading: many rows of a table made as packs, and a summary of them side by side."""
